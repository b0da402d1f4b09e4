import { hash, verify } from '@node-rs/argon2';
import { readBody } from '../../contract/read-body.ts';
import { joinCodeFor, joinCourse, setPassphrase, signIn } from '../../contract/requests.ts';
import type { Admission } from '../../store/sessions/sessions.repository.ts';
import { Refusal } from '../refusal.ts';
import { ADMITTED, type Ask, EVERYBODY, type ServerRoute, TEACHER_ONLY } from '../routes.ts';
import { hashToken, isThisMachine, TEACHER, tokenCookie } from './caller.ts';
import { elsewhereFor } from './door.ts';
import { makeThrottle } from './throttle.ts';

/** argon2id with the parameters of RFC 9106's second recommended option. @source from memory */
const ARGON = { memoryCost: 65_536, timeCost: 3, parallelism: 4 } as const;
const YEAR_S = 365 * 24 * 3600;
const throttle = makeThrottle();

/** A token for this device. Over https it never travels in plain; over http it has to. */
const cookie = (isTls: boolean, token: string, maxAgeS: number): string =>
  `${tokenCookie(isTls)}=${token}; Path=/; HttpOnly; SameSite=Strict; Max-Age=${maxAgeS}${isTls ? '; Secure' : ''}`;

async function admit({ context, reply, isTls }: Ask, admission: Admission): Promise<void> {
  const token = Buffer.from(context.randomBytes(32)).toString('base64url');
  await context.sessions.admit(hashToken(token, isTls), admission, context.nowMs());
  reply.header('set-cookie', cookie(isTls, token, YEAR_S));
}

function refuseTooFast(key: string, nowMs: number): void {
  const wait = throttle.waitMs(key, nowMs);
  if (wait > 0)
    throw new Refusal(429, 'wait', `Too many wrong tries; try again in ${Math.ceil(wait / 1000)} seconds.`);
}

const codeLetters = 'abcdefghjkmnpqrstuvwxyz';

/** A join code that can be read aloud: four letters, dash, four letters. */
function newCode(randomBytes: (count: number) => Uint8Array): string {
  const bytes = randomBytes(16);
  const letters = [...bytes]
    .filter((b) => b < 253)
    .slice(0, 8)
    .map((b) => codeLetters[b % codeLetters.length]);
  return letters.length < 8
    ? newCode(randomBytes)
    : `${letters.slice(0, 4).join('')}-${letters.slice(4).join('')}`;
}

/** Passphrase, join codes, who am I. */
export const doorRoutes: readonly ServerRoute[] = [
  {
    method: 'GET',
    url: '/api/me',
    roles: EVERYBODY,
    handle: async ({ context, caller, request, door }) => ({
      role: caller.role,
      person: caller.person,
      course: caller.course,
      build: caller.build,
      passphrase_is_set: (await context.sessions.passphraseHash()) !== undefined,
      this_machine: isThisMachine(request),
      /** Where signing, keys, limits and settings are taken; null when they are taken here. */
      guarded_at: elsewhereFor(context, request, door) ?? null,
      now_ms: context.nowMs(),
    }),
  },
  {
    method: 'POST',
    url: '/api/passphrase',
    roles: TEACHER_ONLY,
    handle: async (ask) => {
      const { context, body } = ask;
      const wanted = readBody(setPassphrase, body);
      const known = await context.sessions.passphraseHash();
      if (known !== undefined) {
        refuseTooFast('passphrase', context.nowMs());
        if (!(await verify(known, wanted.old ?? ''))) {
          throttle.failed('passphrase', context.nowMs());
          throw new Refusal(403, 'wrong-passphrase', 'The old passphrase is not right; type it again.');
        }
      }
      await context.sessions.setPassphraseHash(await hash(wanted.passphrase, ARGON));
      await admit(ask, { role: 'teacher', person: TEACHER, course: '', build: '' });
      return { set: true };
    },
  },
  {
    method: 'POST',
    url: '/api/sign-in',
    roles: EVERYBODY,
    isGuarded: true,
    handle: async (ask) => {
      const { context, body } = ask;
      const { passphrase } = readBody(signIn, body);
      refuseTooFast('passphrase', context.nowMs());
      const known = await context.sessions.passphraseHash();
      if (known === undefined)
        throw new Refusal(
          409,
          'no-passphrase',
          'No passphrase is set yet; open the page on the machine the server runs on and set one there.',
        );
      if (!(await verify(known, passphrase))) {
        throttle.failed('passphrase', context.nowMs());
        throw new Refusal(403, 'wrong-passphrase', 'That passphrase is not right; type it again.');
      }
      throttle.succeeded('passphrase');
      await admit(ask, { role: 'teacher', person: TEACHER, course: '', build: '' });
      return { role: 'teacher' };
    },
  },
  {
    method: 'POST',
    url: '/api/join',
    roles: EVERYBODY,
    handle: async (ask) => {
      const { context, body } = ask;
      const { code, person } = readBody(joinCourse, body);
      refuseTooFast('join', context.nowMs());
      const course = await context.sessions.courseOfCode(code.trim().toLowerCase());
      if (course === undefined) {
        throttle.failed('join', context.nowMs());
        throw new Refusal(
          403,
          'wrong-code',
          'There is no course with that code; look at the code again, or ask for the teacher.',
        );
      }
      throttle.succeeded('join');
      const there = (await context.people.all()).filter((p) => p.course === course && !p.isForgotten);
      if (person === undefined)
        return { course, people: there.map(({ id, name, role }) => ({ id, name, role })) };
      const who = there.find((p) => p.id === person);
      if (!who)
        throw new Refusal(
          404,
          'no-such-person',
          'Nobody of that name is in this course; choose one of the names, or ask for the teacher.',
        );
      if (who.role !== 'learner')
        throw new Refusal(
          403,
          'helper-by-teacher',
          'A helper is let in by the teacher at the teacher’s own screen.',
        );
      await admit(ask, { role: 'learner', person: who.id, course, build: who.build });
      return { role: 'learner', course, person: who.id, build: who.build };
    },
  },
  {
    method: 'POST',
    url: '/api/sign-out',
    roles: ADMITTED,
    handle: async ({ context, caller, reply, isTls }) => {
      if (caller.tokenHash) await context.sessions.removeToken(caller.tokenHash);
      reply.header('set-cookie', cookie(isTls, '', 0));
      return { role: 'nobody' };
    },
  },
  {
    method: 'POST',
    url: '/api/join-codes',
    roles: TEACHER_ONLY,
    handle: async ({ context, body }) => {
      const { course } = readBody(joinCodeFor, body);
      const code = newCode(context.randomBytes);
      await context.sessions.setJoinCode(course, code);
      return { course, code };
    },
  },
  {
    method: 'GET',
    url: '/api/join-codes',
    roles: TEACHER_ONLY,
    handle: async ({ context }) => Object.fromEntries(await context.sessions.joinCodes()),
  },
];

import fs from 'node:fs';
import path from 'node:path';
import zlib from 'node:zlib';
import fastifyCompress from '@fastify/compress';
import fastifyStatic from '@fastify/static';
import Fastify, {
  type FastifyError,
  type FastifyInstance,
  type FastifyReply,
  type FastifyRequest,
} from 'fastify';
import { guardWords } from '../contract/guarded.ts';
import { InputError } from '../quantity/input-error.ts';
import type { Context } from './context.ts';
import { callerOf } from './doors/caller.ts';
import { doorOf, elsewhereFor } from './doors/door.ts';
import { Refusal } from './refusal.ts';
import { routeTable } from './route-table.ts';
import { isGuarded, type ServerRoute } from './routes.ts';

const SMALL_BODY = 100_000;

const SECURITY: Readonly<Record<string, string>> = {
  'content-security-policy':
    "default-src 'self'; script-src 'self'; style-src 'self'; img-src 'self' blob: data:; media-src 'self' blob:; font-src 'self'; connect-src 'self'; worker-src 'self'; manifest-src 'self'; object-src 'none'; base-uri 'none'; form-action 'self'; frame-ancestors 'none'",
  'x-content-type-options': 'nosniff',
  'referrer-policy': 'no-referrer',
  'permissions-policy': 'camera=(self), microphone=(self), geolocation=(), payment=(), usb=()',
};

/** A request that another site made a browser send is refused: the page's own requests name this host as their origin. */
function isForeign(request: FastifyRequest, isTls: boolean): boolean {
  const origin = request.headers.origin;
  if (origin === undefined || request.method === 'GET') return false;
  try {
    const { protocol, host } = new URL(origin);
    return host !== request.headers.host || (isTls && protocol !== 'https:');
  } catch {
    return true;
  }
}

function answerError(
  error: FastifyError | Error,
  request: FastifyRequest,
  reply: FastifyReply,
): FastifyReply {
  if (error instanceof Refusal)
    return reply.code(error.status).send({ code: error.code, message: error.message, ...error.more });
  if (error instanceof InputError)
    return reply
      .code(400)
      .send({ code: error.code, message: error.message, ...(error.member ? { member: error.member } : {}) });
  const status = (error as FastifyError).statusCode ?? 500;
  if (status === 413)
    return reply
      .code(413)
      .send({ code: 'too-large', message: 'That is larger than this server takes; send less at a time.' });
  if (status === 415)
    return reply.code(415).send({
      code: 'media-type',
      message: 'This server takes JSON here; send it with the content type application/json.',
    });
  if (status < 500)
    return reply
      .code(status)
      .send({ code: 'request-form', message: 'The request cannot be read; correct it and send it again.' });
  request.log.error({ err: error.message, url: request.routeOptions.url }, 'fault');
  return reply.code(500).send({
    code: 'fault',
    message: 'The server has a fault and kept nothing of this; try again, and tell whoever looks after it.',
  });
}

function addRoute(app: FastifyInstance, context: Context, route: ServerRoute, isTls: boolean): void {
  app.route({
    method: route.method,
    url: route.url,
    bodyLimit: route.bodyLimit ?? SMALL_BODY,
    handler: async (request, reply) => {
      const caller = await callerOf(context, request, isTls);
      const door = doorOf(request, isTls);
      if (isForeign(request, isTls))
        throw new Refusal(
          403,
          'foreign-page',
          'That request came from another site’s page; open the page of this server.',
        );
      if (!route.roles.includes(caller.role))
        throw caller.role === 'nobody'
          ? new Refusal(
              401,
              'sign-in',
              'Nobody is signed in on this device; sign in, or join the course with its code.',
            )
          : new Refusal(403, 'not-allowed', `This is not for a ${caller.role}; ask for the teacher.`);
      const elsewhere = isGuarded(route) ? elsewhereFor(context, request, door) : undefined;
      if (elsewhere !== undefined)
        throw new Refusal(403, 'other-door', guardWords(elsewhere), { guarded_at: elsewhere });
      reply.header('cache-control', 'no-store');
      return route.handle({
        context,
        caller,
        door,
        isTls,
        request,
        reply,
        params: (request.params ?? {}) as Record<string, string>,
        query: onlyTexts(request.query),
        body: request.body,
      });
    },
  });
}

/** A query value given twice is taken as not given. */
function onlyTexts(query: unknown): Record<string, string> {
  const entries = Object.entries((query ?? {}) as Record<string, unknown>).filter(
    (e): e is [string, string] => typeof e[1] === 'string',
  );
  return Object.fromEntries(entries);
}

/**
 * Builds the server: the routes of the table, the page, one door for errors. Listening is somebody else's business.
 *
 * @param webFolder  built page; left out in tests that need none
 * @param tls        key and certificate: the app is the https door; left out: plain http
 */
export async function buildApp(
  context: Context,
  options: {
    readonly webFolder?: string;
    readonly log?: boolean;
    readonly tls?: { readonly key: string; readonly cert: string };
  } = {},
): Promise<FastifyInstance> {
  const isTls = options.tls !== undefined;
  const app = Fastify({
    // the types know an instance for each kind of server; routes do not care
    ...((options.tls ? { https: { ...options.tls, minVersion: 'TLSv1.2' } } : {}) as object),
    logger:
      options.log === true
        ? { level: 'error', redact: ['req.headers.cookie', 'req.headers.authorization'] }
        : false,
    bodyLimit: SMALL_BODY,
    forceCloseConnections: true,
    routerOptions: { maxParamLength: 200 },
  });
  app.addHook('onSend', async (request, reply) => {
    for (const [name, value] of Object.entries(SECURITY)) reply.header(name, value);
    // over plain http browsers ignore it and say so as a fault
    if (doorOf(request, isTls) !== 'http') reply.header('cross-origin-opener-policy', 'same-origin');
  });
  // the page and the record are text: an eighth of the size over a workshop's thin network
  await app.register(fastifyCompress, {
    encodings: ['br', 'gzip'],
    brotliOptions: { params: { [zlib.constants.BROTLI_PARAM_QUALITY]: 5 } },
  });
  app.setErrorHandler(answerError);
  app.addContentTypeParser(
    ['image/jpeg', 'image/png', 'image/webp', 'video/mp4', 'video/webm', 'application/octet-stream'],
    { parseAs: 'buffer' },
    (_request, body, done) => done(null, body),
  );
  for (const route of routeTable) addRoute(app, context, route, isTls);
  await addPage(app, options.webFolder);
  app.addHook('onClose', async () => {
    context.live.close();
    await context.pdf.close();
  });
  return app;
}

async function addPage(app: FastifyInstance, webFolder: string | undefined): Promise<void> {
  const notThere = {
    code: 'no-such-page',
    message: 'There is nothing under that address here; begin at the first page.',
  };
  if (webFolder === undefined || !fs.existsSync(path.join(webFolder, 'index.html'))) {
    app.setNotFoundHandler((_request, reply) => reply.code(404).send(notThere));
    return;
  }
  await app.register(fastifyStatic, {
    root: webFolder,
    index: ['index.html'],
    // it would put its own header over the one below
    cacheControl: false,
    setHeaders: (reply, file) => {
      const isHashed = /[/\\]assets[/\\]/.test(file);
      reply.setHeader('cache-control', isHashed ? 'public, max-age=31536000, immutable' : 'no-cache');
    },
  });
  app.setNotFoundHandler((request, reply) => {
    const isPage =
      request.method === 'GET' &&
      !request.url.startsWith('/api/') &&
      !/\.[a-z0-9]{2,5}(\?|$)/i.test(request.url);
    return isPage ? reply.sendFile('index.html') : reply.code(404).send(notThere);
  });
}

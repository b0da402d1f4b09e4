import { createHash } from 'node:crypto';
import { filesRepository } from '../../store/files/files.repository.ts';
import { maySee } from '../record/permission.ts';
import { buildsOf } from '../record/record.routes.ts';
import { Refusal } from '../refusal.ts';
import { ADMITTED, type ServerRoute } from '../routes.ts';
import { mediaTypeOf } from './media-type.ts';

const LARGEST = 12 * 1024 * 1024;
const LARGEST_TOTAL = 4 * 1024 * 1024 * 1024;

/** Photos and short clips of builds. */
export const fileRoutes: readonly ServerRoute[] = [
  {
    method: 'POST',
    url: '/api/files/:stream',
    roles: ADMITTED,
    bodyLimit: LARGEST,
    handle: async ({ context, caller, params, body }) => {
      const stream = params['stream'] ?? '';
      if (!/^(build|course|shop):[A-Za-z0-9._-]{1,80}$/.test(stream))
        throw new Refusal(
          400,
          'stream-form',
          'A photo belongs to a build, a course or the shop; send it to one of them.',
        );
      const isOwn =
        caller.role === 'teacher' ||
        (caller.role === 'helper'
          ? maySee(caller, stream, await buildsOf(context, caller))
          : stream === `build:${caller.build}`);
      if (!isOwn) throw new Refusal(403, 'not-yours', 'A photo can be added to your own build only.');
      if (!(body instanceof Uint8Array))
        throw new Refusal(
          415,
          'media-type',
          'Send the photo itself, as a JPEG, PNG or WebP picture or an MP4 or WebM clip.',
        );
      const mediaType = mediaTypeOf(body);
      if (!mediaType)
        throw new Refusal(
          415,
          'media-type',
          'This is no JPEG, PNG or WebP picture and no MP4 or WebM clip; send one of those.',
        );
      const files = filesRepository(context.store.db);
      if ((await files.totalBytes()) + body.length > LARGEST_TOTAL)
        throw new Refusal(
          507,
          'store-full',
          'The photos of this workshop fill 4 GB; take some away before adding more.',
        );
      const id = createHash('sha256').update(body).digest('hex').slice(0, 40);
      await files.put({ id, stream, person: caller.person, mediaType, bytes: body }, context.nowMs());
      return { hash: id, type: mediaType };
    },
  },
  {
    method: 'GET',
    url: '/api/files/:id',
    roles: ADMITTED,
    handle: async ({ context, caller, params, reply }) => {
      const file = await filesRepository(context.store.db).get(params['id'] ?? '');
      const isSeen =
        file &&
        (caller.role === 'teacher' ||
          file.person === caller.person ||
          // what the teacher shows at a step of the route is for the whole class
          file.stream.startsWith('shop:') ||
          file.stream === `build:${caller.build}`);
      if (!file || !isSeen) throw new Refusal(404, 'no-such-file', 'There is no such photo here.');
      reply.header('content-type', file.mediaType).header('content-disposition', 'inline');
      return reply.send(Buffer.from(file.bytes));
    },
  },
];

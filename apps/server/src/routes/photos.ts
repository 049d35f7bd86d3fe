import { z } from '@hono/zod-openapi';
import { EVERY_ROLE, OFFICE, RECORDERS } from '../accounts/roles.ts';
import type { Services } from '../http/context.ts';
import { Problem } from '../http/problems.ts';
import { type App, addRoute } from '../http/route.ts';
import {
  MOST_PART_BYTES,
  MOST_PHOTO_BYTES,
  MOST_THUMBNAIL_BYTES,
  PHOTO_TYPES,
  type StoredPicture,
} from '../photos/photoStore.ts';

const params = z.object({
  hash: z.string().regex(/^[0-9a-f]{64}$/, 'the sha256 of the picture, 64 hex digits'),
});
const state = z
  .object({
    /** bytes on stable storage, from the start: go on from here */
    received: z.number().int(),
    complete: z.boolean(),
    thumbnail: z.boolean(),
  })
  .openapi('PhotoState');

/** A picture shows and runs nothing besides itself. */
const PICTURE_POLICY = "default-src 'none'; frame-ancestors 'none'; sandbox";

/** Pictures by content hash, apart from the facts that name them; sent in parts, so that a cut costs one part. */
export function addPhotoRoutes(app: App, services: Services): void {
  const { photos } = services;

  addRoute(
    app,
    services,
    {
      method: 'get',
      path: '/api/photos',
      tag: 'records',
      summary: "How much room the firm's pictures take, and how much they may",
      roles: OFFICE,
      result: z.object({
        pictures: z.number().int(),
        usedBytes: z.number().int(),
        /** null = no limit */
        quotaBytes: z.number().int().nullable(),
      }),
    },
    async ({ person }) => {
      const { pictures, usedBytes, quotaBytes } = await photos.usage(person.firm);
      return { pictures, usedBytes, quotaBytes: quotaBytes ?? null };
    },
  );

  addRoute(
    app,
    services,
    {
      method: 'get',
      path: '/api/photos/{hash}/state',
      tag: 'records',
      summary: 'How much of a picture is here: where to go on sending',
      roles: EVERY_ROLE,
      params,
      result: state,
    },
    ({ person, params: { hash } }) => photos.state(person.firm, hash),
  );

  addRoute(
    app,
    services,
    {
      method: 'put',
      path: '/api/photos/{hash}',
      tag: 'records',
      summary: `A part of a picture (JPEG, PNG or WebP, ${MOST_PHOTO_BYTES} bytes at most) from \`offset\` on; sent twice it is kept once`,
      roles: RECORDERS,
      params,
      query: z.object({
        offset: z.coerce.number().int().min(0),
        /** of the whole picture, bytes */
        size: z.coerce.number().int().min(1).max(MOST_PHOTO_BYTES),
      }),
      file: { mediaTypes: PHOTO_TYPES },
      maxBodyBytes: MOST_PART_BYTES,
      result: state,
    },
    ({ person, params: { hash }, query: { offset, size }, file }) =>
      photos.addPart({ firm: person.firm, by: person.id, hash, offset, size, bytes: file }),
  );

  addRoute(
    app,
    services,
    {
      method: 'put',
      path: '/api/photos/{hash}/thumbnail',
      tag: 'records',
      summary: `A small copy of a picture that was begun, ${MOST_THUMBNAIL_BYTES} bytes at most; the first one stands`,
      roles: RECORDERS,
      params,
      file: { mediaTypes: PHOTO_TYPES },
      maxBodyBytes: MOST_THUMBNAIL_BYTES,
      result: state,
    },
    ({ person, params: { hash }, file }) => photos.setThumbnail(person.firm, hash, file),
  );

  addRoute(
    app,
    services,
    {
      method: 'get',
      path: '/api/photos/{hash}',
      tag: 'records',
      summary: 'The picture',
      roles: EVERY_ROLE,
      params,
      media: PHOTO_TYPES,
    },
    async ({ person, params: { hash } }) => pictureResponse(await photos.find(person.firm, hash)),
  );

  addRoute(
    app,
    services,
    {
      method: 'get',
      path: '/api/photos/{hash}/thumbnail',
      tag: 'records',
      summary: 'The small copy of a picture',
      roles: EVERY_ROLE,
      params,
      media: PHOTO_TYPES,
    },
    async ({ person, params: { hash } }) => pictureResponse(await photos.findThumbnail(person.firm, hash)),
  );
}

function pictureResponse(picture: StoredPicture | undefined): Response {
  if (picture === undefined)
    throw new Problem('not found', 'No picture with this hash is here, or not all of it yet.');
  return new Response(Uint8Array.from(picture.bytes), {
    headers: {
      'content-type': picture.mediaType,
      'content-security-policy': PICTURE_POLICY,
      // Its name is its content; who may see it is asked for each time that it is not in the browser's own store.
      'cache-control': 'private, max-age=31536000, immutable',
    },
  });
}

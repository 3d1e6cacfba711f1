import { photoKind } from "@earthbell/papers";
import type { FastifyInstance } from "fastify";
import * as z from "zod";
import { takePhoto } from "../../visits/take-photo.ts";
import { allowed } from "../caller.ts";
import type { DeskParts } from "../desk-parts.ts";
import { RequestFault } from "../request-fault.ts";
import { schemasOf } from "../zod-schemas.ts";
import { photoParams, photoQuery } from "./visit-schemas.ts";

/** A photo of a phone has 3 to 12 MB. */
const MOST_PHOTO_BYTES = 20 * 2 ** 20;
/** A photo is nothing that a page could run, whatever is in it. */
const HARMLESS = {
  "content-security-policy": "default-src 'none'; sandbox",
  "content-disposition": "inline",
  "cache-control": "private, max-age=31536000, immutable",
};

type PhotoParams = z.output<typeof photoParams>;

/** Photos of a visit. */
export function photoRoutes(app: FastifyInstance, parts: DeskParts): void {
  const { store, clock, photos } = parts;
  app.addContentTypeParser(
    /^(?:image\/|application\/octet-stream)/u,
    { parseAs: "buffer", bodyLimit: MOST_PHOTO_BYTES },
    (_, body, done) => {
      done(null, body);
    },
  );
  app.put<{ Params: PhotoParams; Querystring: z.output<typeof photoQuery>; Body: unknown }>(
    "/api/visits/:id/photos/:photo",
    {
      bodyLimit: MOST_PHOTO_BYTES,
      schema: schemasOf({
        summary: "Add a photo to a visit; the same one may be sent again",
        tag: "visits",
        params: photoParams,
        query: photoQuery,
        consumes: "image/jpeg",
        answer: z.object({ digest: z.string() }),
      }),
    },
    async (request) => {
      const { id, photo } = request.params;
      const site = await siteOf(id);
      const { name: by } = await allowed(request, parts, "work-case", site);
      if (site === null) throw new RequestFault("REQUEST_UNKNOWN", `No visit ${id} was handed over.`);
      const picture = request.body instanceof Buffer ? request.body : Buffer.alloc(0);
      const mediaType = photoKind(picture);
      if (mediaType === null)
        throw new RequestFault("PHOTO_KIND_UNKNOWN", "This is no JPEG, PNG, WebP, HEIC or AVIF picture.");
      const of = { visit: id, site, id: photo, ...request.query, mediaType, picture };
      const taken = await takePhoto(store, photos, of, by, clock.now());
      if (!taken.ok) throw new RequestFault(taken.code, taken.text);
      return { digest: taken.digest };
    },
  );
  app.get<{ Params: PhotoParams }>(
    "/api/visits/:id/photos/:photo",
    {
      schema: schemasOf({
        summary: "A photo of a visit",
        tag: "visits",
        params: photoParams,
        answer: z.unknown(),
      }),
    },
    async (request, reply) => {
      const { id, photo } = request.params;
      await allowed(request, parts, "see-site", await siteOf(id));
      const row = await store.db
        .selectFrom("visit_photo")
        .select(["digest", "media_type"])
        .where("visit", "=", id)
        .where("id", "=", photo)
        .executeTakeFirst();
      const picture = row === undefined ? null : await photos.read(row.digest);
      if (row === undefined || picture === null)
        throw new RequestFault("REQUEST_UNKNOWN", `Visit ${id} has no photo ${photo} that can be read.`);
      return reply.headers(HARMLESS).type(row.media_type).serializer(asItIs).send(picture);
    },
  );

  async function siteOf(visit: string): Promise<string | null> {
    const row = await store.db.selectFrom("visit").select("site").where("id", "=", visit).executeTakeFirst();
    return row?.site ?? null;
  }
}

const asItIs = (picture: unknown): string => picture as string;

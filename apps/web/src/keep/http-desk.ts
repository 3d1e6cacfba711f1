import type { HandedVisit, VisitBeginning, VisitEntry } from "@earthbell/model";
import type { Desk } from "./desk.ts";
import type { KeptPhoto, KeptVisit } from "./kept.ts";
import { standingPhotos, waitingEntries } from "./kept-entries.ts";

/** What a desk over HTTP is asked for. */
export interface RemoteDesk {
  /** Somebody is signed in there, as far as this browser knows. */
  readonly reachable: () => boolean;
  readonly visit: (id: string) => Promise<HandedVisit | null>;
  readonly hand: (
    id: string,
    beginning: VisitBeginning,
    entries: readonly VisitEntry[],
  ) => Promise<HandedVisit>;
  readonly addPhoto: (photo: KeptPhoto) => Promise<void>;
  readonly photo: (visit: string, photo: string) => Promise<Blob>;
  /** Tells of each visit to which somebody has added something; returns how to stop listening. */
  readonly hear: (changed: (visit: string) => void) => () => void;
  /** Tries something again a little later, where the reason for which it failed may pass. */
  readonly retry: (failed: unknown, work: () => void) => void;
}

export interface HttpDesk extends Desk {
  /** Sends what waits of one visit, and takes in what others have entered. Rejects with the reason why it could not. */
  readonly handOver: (visit: string) => Promise<void>;
  /** Keeps up with what others enter on a visit; returns how to stop. */
  readonly follow: (visit: string) => () => void;
}

/** Entries of one request; as many as the desk takes. */
const AT_ONCE = 500;

/**
 * A desk over HTTP. What is entered is kept on the device first and handed over from there, so that a page that is killed, a
 * phone that restarts or an answer that is lost costs nothing: what the desk has not confirmed is sent again.
 *
 * @param changed  called after a visit was kept here, so that somebody hands it over
 */
export function httpDesk(device: Desk, remote: RemoteDesk, changed: (visit: string) => void): HttpDesk {
  const pictureOf = pictureKeeper(remote);
  const takeIn = async (id: string): Promise<void> => {
    const handed = await remote.visit(id);
    if (handed !== null) await device.visits.takeIn(handed);
  };
  return {
    ...device,
    visits: {
      ...device.visits,
      one: async (id) => {
        const here = await device.visits.one(id);
        if (here !== null || !remote.reachable()) return here;
        await takeIn(id).catch(() => undefined);
        return await device.visits.one(id);
      },
      keep: async (visit) => {
        await device.visits.keep(visit);
        if (waitingEntries(visit).length > 0 || (visit.place !== null && !visit.known)) changed(visit.id);
      },
    },
    photos: {
      ...device.photos,
      of: async (visit) => await photosOf(device, visit, pictureOf),
      keep: async (photo) => {
        await device.photos.keep(photo);
        const visit = await device.visits.one(photo.visit);
        if (visit !== null && visit.place !== null) changed(visit.id);
      },
    },
    handOver: (id) => handOver(device, remote, id),
    follow: (id) => {
      let followed = true;
      const again = (): void => {
        if (!followed) return;
        takeIn(id).catch((failed: unknown) => {
          remote.retry(failed, again);
        });
      };
      again();
      const stop = remote.hear((visit) => {
        if (visit === id) again();
      });
      return () => {
        followed = false;
        stop();
      };
    },
  };
}

type PictureOf = (visit: string, photo: string) => Promise<Blob | null>;

/** Pictures of others, each fetched once while the page is open; null without signal. */
function pictureKeeper(remote: RemoteDesk): PictureOf {
  const pictures = new Map<string, Promise<Blob | null>>();
  return (visit, photo) => {
    const known = pictures.get(photo);
    if (known !== undefined) return known;
    const coming = remote.photo(visit, photo).catch(() => {
      pictures.delete(photo);
      return null;
    });
    pictures.set(photo, coming);
    return coming;
  };
}

/** Photos of this device, and those that others have added, as far as there is signal to fetch them. */
async function photosOf(device: Desk, id: string, pictureOf: PictureOf): Promise<readonly KeptPhoto[]> {
  const own = await device.photos.of(id);
  const kept = await device.visits.one(id);
  if (kept === null) return own;
  const others = standingPhotos(kept, kept.photosAtDesk).filter(
    (photo) => !own.some((one) => one.id === photo.id),
  );
  const fetched = await Promise.all(
    others.map(async ({ id: photo, name, takenAt }): Promise<readonly KeptPhoto[]> => {
      const image = await pictureOf(id, photo);
      const taken = new Date(takenAt).toISOString();
      return image === null ? [] : [{ id: photo, visit: id, taken, name, image, sent: true }];
    }),
  );
  return [...standingPhotos(kept, own), ...fetched.flat()].toSorted((a, b) => a.taken.localeCompare(b.taken));
}

async function handOver(device: Desk, remote: RemoteDesk, id: string): Promise<void> {
  for (;;) {
    const kept = await device.visits.one(id);
    if (kept === null || kept.place === null) return;
    const waiting = waitingEntries(kept).slice(0, AT_ONCE);
    if (waiting.length === 0 && kept.known) break;
    await device.visits.takeIn(await remote.hand(id, beginningOf(kept, kept.place), waiting));
  }
  for (const photo of await device.photos.of(id)) {
    if (photo.sent) continue;
    const kept = await device.visits.one(id);
    if (kept === null || standingPhotos(kept, [photo]).length === 0) continue;
    await remote.addPhoto(photo);
    await device.photos.keep({ ...photo, sent: true });
  }
}

function beginningOf(
  { title, begun, setUp }: KeptVisit,
  { site, case: of }: NonNullable<KeptVisit["place"]>,
): VisitBeginning {
  return { title, site, case: of, begunAt: Date.parse(begun), setUp };
}

import type { HandedVisit } from "@earthbell/model";
import type { RemoteDesk } from "../keep/http-desk.ts";
import { ASK_AGAIN_MS, DeskFault, passes, readDesk, readDeskPicture, tellDesk } from "./ask-desk.ts";
import { hear } from "./live.ts";
import { maySignIn } from "./session.ts";

const visitPath = (id: string): string => `/api/visits/${encodeURIComponent(id)}`;
const photoPath = (visit: string, photo: string): string =>
  `${visitPath(visit)}/photos/${encodeURIComponent(photo)}`;

/** Nothing is asked where the answer is known. @throws DeskFault */
function needWay(): void {
  if (!navigator.onLine) throw new DeskFault("DESK_UNREACHABLE", "This device has no signal.");
  if (!maySignIn()) throw new DeskFault("REQUEST_TOKEN_MISSING", "Nobody is signed in here.");
}

/** The desk that serves this page. */
export const remoteDesk: RemoteDesk = {
  reachable: maySignIn,
  visit: async (id) => {
    try {
      return await readDesk<HandedVisit>(visitPath(id));
    } catch (error) {
      if (error instanceof DeskFault && error.code === "REQUEST_UNKNOWN") return null;
      throw error;
    }
  },
  hand: async (id, beginning, entries) => {
    needWay();
    return await tellDesk<HandedVisit>(`${visitPath(id)}/entries`, { beginning, entries });
  },
  addPhoto: async ({ id, visit, name, taken, image }) => {
    needWay();
    const about = new URLSearchParams({ name, takenAt: String(Date.parse(taken)) });
    await tellDesk(`${photoPath(visit, id)}?${about.toString()}`, image, "PUT");
  },
  photo: async (visit, photo) => await readDeskPicture(photoPath(visit, photo)),
  hear: (changed) =>
    maySignIn()
      ? hear(({ kind, subject }) => {
          if (kind === "visit" && subject !== null) changed(subject);
        })
      : () => undefined,
  retry: (failed, work) => {
    if (failed instanceof DeskFault && passes(failed)) setTimeout(work, ASK_AGAIN_MS);
  },
};

import { cableCurrentLimit } from "../path/cable.ts";
import { figure } from "../path/judgement.ts";
import type { Amperes } from "../quantity/index.ts";
import { changed, type Draft, stuck } from "./repair.ts";
import { fuseAtLeast } from "./standard-sizes.ts";

/** A fuse runs at most at four fifths of its rating (design choice). */
const FUSE_RESERVE = 1.25;

/** Fuse of at least the load's current and at most what contact and cable bear. */
export function sizeFuse(draft: Draft): Draft {
  const { loop, relay, request } = draft;
  const { load, cable, fuse } = loop;
  if (load === undefined || cable === undefined) return draft;
  const contactA = relay === null ? request.contact.current : relay.contactA;
  const most = Math.min(contactA, cableCurrentLimit(cable.area));
  if (fuse !== undefined && fuse >= load.current && fuse <= most) return draft;
  const fitting = fuseAtLeast(FUSE_RESERVE * load.current) ?? Infinity;
  const chosen = fitting <= most ? fitting : (fuseAtLeast(load.current) ?? Infinity);
  const bounds = `The load draws ${figure(load.current, 3)} A; contact and cable bear ${figure(most, 3)} A`;
  if (chosen > most) return stuck(draft, `${bounds}, and no standard fuse lies between. Use a smaller load.`);
  return changed(
    draft,
    { fuse: chosen as Amperes },
    {
      part: "fuse",
      from: fuse === undefined ? "none" : `${figure(fuse, 3)} A`,
      to: `${figure(chosen, 3)} A`,
      why: `${bounds}.`,
    },
  );
}

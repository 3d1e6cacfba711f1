import { cautionsFor, OWNER_MUST_BE_TOLD } from "@earthbell/engine";
import type { Occasion } from "./occasion.ts";
import { oneLine } from "./one-line.ts";
import type { Part } from "./part.ts";

/** Owners, occupants and people of no stated post get plain words. */
export function isOfTheTrade({ person }: Pick<Occasion, "person">): boolean {
  return person.role === "service" || person.role === "installer";
}

const [DO_NOT_TOUCH, CALL, SHUT_DOWN, STAYS_LIVE, ANY_FAULT] = OWNER_MUST_BE_TOLD.map(({ value }) => value);
const ARRIVING = cautionsFor("arrive").map(({ text }) => text);

/** What stands before everything that a reader could act on. */
export function cautionPart(occasion: Occasion): Part {
  if (!isOfTheTrade(occasion)) {
    return {
      heading: "Before anything else",
      list: [
        DO_NOT_TOUCH!,
        STAYS_LIVE!,
        "Open no cover, connector or switch box. That belongs to licensed people.",
      ],
    };
  }
  return { heading: "Before anybody goes there", list: ARRIVING };
}

/** The one caution that fits in a text message, unshortened. */
export function shortCaution(occasion: Occasion): string {
  return isOfTheTrade(occasion)
    ? cautionsFor("arrive").find(({ id }) => id === "metal-may-be-live")!.text
    : DO_NOT_TOUCH!;
}

/** What an owner can do about an alarm; it follows the cautions. */
export function ownerSteps(occasion: Occasion): Part {
  const { contact } = occasion.site;
  const call =
    contact === undefined
      ? "Call the firm that services the system. This desk has no number on record."
      : `${CALL!.replace(/\.$/u, "")}: ${oneLine(contact, 120)}`;
  return { heading: "What you can do", list: [call, SHUT_DOWN!, ANY_FAULT!] };
}

/** What somebody of the trade does next; it follows the cautions. */
export const TRADE_STEPS: Part = {
  heading: "Next",
  list: [
    "See that the owner knows, and that nobody is near the array, its metal, its cables or its gutters.",
    "Have the visit done by a licensed person, with the steps and their cautions from the finder.",
    "No connector, fuse or link is parted before zero current in that conductor has been proved.",
  ],
};

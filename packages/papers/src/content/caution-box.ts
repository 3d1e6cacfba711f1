import { CAUTIONS, type Caution, cautionsFor, type SafetyAction } from "@earthbell/engine";
import { CAUTIONS_IN_SPANISH } from "../language/cautions-in-spanish.ts";
import { dayWords, type Language } from "../language/language.ts";
import type { CautionBox } from "./paper.ts";

/** A caution in a language; in English where it is not written in another. */
function cautionText({ id, text }: Caution, language: Language): string {
  return language === "es" ? (CAUTIONS_IN_SPANISH[id] ?? text) : text;
}

/** Everything to be read before an action, with the day it was last read against its sources. */
export function cautionBox(action: SafetyAction, title: string, language: Language = "en"): CautionBox {
  return boxOf(cautionsFor(action), title, language);
}

/** The cautions of these ids, in the engine's order of importance. */
export function cautionBoxOf(
  ids: readonly string[],
  title: string,
  more: readonly string[] = [],
): CautionBox {
  const box = boxOf(
    CAUTIONS.filter(({ id }) => ids.includes(id)),
    title,
    "en",
  );
  return { ...box, items: [...box.items, ...more] };
}

function boxOf(cautions: readonly Caution[], title: string, language: Language): CautionBox {
  const days = [...new Set(cautions.map(({ reviewedOn }) => reviewedOn))].sort();
  const owners = [...new Set(cautions.map(({ owner }) => owner))];
  return {
    kind: "cautions",
    title,
    items: cautions.map((caution) => cautionText(caution, language)),
    reviewed: days.length === 0 ? "" : reviewWords(owners.join(", "), days[0]!, language),
  };
}

function reviewWords(owner: string, oldest: string, language: Language): string {
  const day = dayWords(oldest, language);
  return language === "es"
    ? `Texto de seguridad: ${owner}, leído por última vez el ${day}. Traducción sin revisar por un técnico con licencia.`
    : `Safety text: ${owner}, last read against its sources on ${day}. The source of each: earthbell prove, or docs/safety.md.`;
}

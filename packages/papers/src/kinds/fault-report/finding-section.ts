import type { Finding } from "@earthbell/engine";
import type { Block, Figure } from "../../content/paper.ts";
import { percent, quantityWords } from "../../content/quantity-words.ts";

const MOST_PLACES = 10;
const VERDICTS: Readonly<Record<Finding["verdict"], string>> = {
  located: "The fault is located",
  narrowed: "The fault is narrowed down",
  "cannot-tell": "The readings cannot tell where the fault is",
  "no-fault": "The readings show no fault",
  "more-than-one": "The readings show more than one fault",
  inconsistent: "The readings contradict each other",
};

/** What the readings say, with the figures and how sure they are. */
export function findingSection(finding: Finding): readonly Block[] {
  const { verdict, because, places, warnings, hypotheses } = finding;
  return [
    { kind: "paragraph", weight: "lead", text: `${VERDICTS[verdict]}.` },
    { kind: "paragraph", text: because },
    ...(figuresOf(finding).length === 0
      ? []
      : [{ kind: "figures", caption: "", rows: figuresOf(finding) } as const]),
    ...(places.length === 0
      ? []
      : [
          {
            kind: "table",
            caption: "Places by probability, computed from the readings",
            columns: [
              { head: "String", share: 0.2 },
              { head: "Place", share: 0.55 },
              { head: "Probability", share: 0.25, right: true },
            ],
            rows: places
              .slice(0, MOST_PLACES)
              .map(({ string, label, probability }) => [string, label, percent(probability)]),
          } as const,
        ]),
    ...(hypotheses.length === 0
      ? []
      : [
          {
            kind: "paragraph",
            weight: "aside",
            text: `Weighed: ${hypotheses.map(({ what, probability }) => `${what} ${percent(probability)}`).join("; ")}.`,
          } as const,
        ]),
    ...(warnings.length === 0 ? [] : [{ kind: "list", items: warnings } as const]),
  ];
}

function figuresOf({ faultResistance, insulation, handRule }: Finding): readonly Figure[] {
  const from = { source: "readings of this visit", tag: "computed" } as const;
  return [
    ...(faultResistance === null
      ? []
      : [{ label: "Resistance of the fault (90 %)", value: rangeWords(faultResistance), ...from }]),
    ...insulation.map((one) => ({
      label: `Insulation of ${one.string} (90 %)`,
      value: rangeWords(one),
      ...from,
    })),
    ...handRule.flatMap(({ string, at, why }) =>
      at === null
        ? []
        : [
            {
              label: `Proportional rule on ${string}`,
              value: `${Number(at.toFixed(2))} modules from −`,
              source: why,
              tag: "computed",
            } as const,
          ],
    ),
  ];
}

/** `10.3 kΩ, 10.1 kΩ to 10.5 kΩ`. */
export function rangeWords({
  ohms,
  low,
  high,
}: {
  readonly ohms: number;
  readonly low: number;
  readonly high: number;
}): string {
  const [value, from, to] = [ohms, low, high].map((one) =>
    Number.isFinite(one) ? quantityWords(one, "resistance", 3) : "beyond measure",
  );
  return `${value!}, ${from!} to ${to!}`;
}

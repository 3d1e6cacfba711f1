import { readHistory, SIMULATED_TROUBLES } from "@earthbell/engine";
import { type Drawn, isVisible, ZONE } from "./drawn-histories.ts";

export interface Confusion {
  readonly counts: Readonly<Record<string, Readonly<Record<string, number>>>>;
  readonly macroF1: number;
  readonly f1: Readonly<Record<string, number>>;
  /** Stated probability of the verdict against how often it was right, by tenths. */
  readonly calibration: readonly {
    readonly stated: number;
    readonly right: number;
    readonly count: number;
  }[];
  /** Declines too small to be seen, left out. */
  readonly leftOut: number;
  readonly byStyle: Readonly<Record<string, { readonly right: number; readonly count: number }>>;
}

export function confusionOf(draw: (index: number) => Drawn, wanted: number): Confusion {
  const counts: Record<string, Record<string, number>> = {};
  const byStyle: Record<string, { right: number; count: number }> = {};
  const bins = Array.from({ length: 10 }, () => ({ stated: 0, right: 0, count: 0 }));
  let leftOut = 0;
  for (let index = 0, kept = 0; kept < wanted; index++) {
    const drawn = draw(index);
    if (!isVisible(drawn)) {
      leftOut++;
      continue;
    }
    kept++;
    const { finding } = readHistory({ array: "A", readings: drawn.history.readings }, { timezone: ZONE });
    const { verdict, probabilities } = finding;
    const row = (counts[drawn.trouble] ??= {});
    row[verdict] = (row[verdict] ?? 0) + 1;
    const right = verdict === drawn.trouble ? 1 : 0;
    const style = (byStyle[drawn.style] ??= { right: 0, count: 0 });
    style.right += right;
    style.count++;
    const bin = bins[Math.min(9, Math.floor(probabilities[verdict] * 10))]!;
    bin.stated += probabilities[verdict];
    bin.right += right;
    bin.count++;
  }
  const f1 = Object.fromEntries(SIMULATED_TROUBLES.map((kind) => [kind, f1Of(counts, kind)]));
  return {
    counts,
    f1,
    macroF1: Object.values(f1).reduce((sum, value) => sum + value, 0) / SIMULATED_TROUBLES.length,
    calibration: bins.flatMap(({ stated, right, count }) =>
      count === 0 ? [] : [{ stated: stated / count, right: right / count, count }],
    ),
    leftOut,
    byStyle,
  };
}

function f1Of(counts: Confusion["counts"], kind: string): number {
  const hit = counts[kind]?.[kind] ?? 0;
  const meant = Object.values(counts[kind] ?? {}).reduce((sum, count) => sum + count, 0);
  const said = Object.values(counts).reduce((sum, row) => sum + (row[kind] ?? 0), 0);
  return (2 * hit) / Math.max(1, meant + said);
}

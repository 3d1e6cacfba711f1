import type { VisitBeginning, VisitEntry } from "@earthbell/model";
import * as z from "zod";

/** A visit as it is handed over by a device. Quantities are in base units, as the engine has them. */
const MOST_STRINGS = 1000;
/** Entries of one request; a device sends the rest in the next one. */
const MOST_ENTRIES_AT_ONCE = 500;

const id = z.string().regex(/^[A-Za-z0-9-]{4,80}$/u, "letters, digits and dashes, 4 to 80");
const name = z.string().trim().min(1).max(200);
const long = z.string().max(20_000);
const instant = z.int().min(0);
const positive = z.number().positive();
const share = z.number().min(0).max(1);
const accuracy = z.strictObject({ reading: share.exactOptional(), floor: z.number().min(0).exactOptional() });

const stringSpec = z.strictObject({
  id: name,
  modules: z.int().min(1).max(1000),
  substrings: z.int().min(1).max(24).exactOptional(),
  moduleVoc: positive.exactOptional(),
  moduleVocs: z.array(z.number().min(0)).max(1000).exactOptional(),
  homeRuns: z
    .strictObject({
      positive: z.number().min(0).exactOptional(),
      negative: z.number().min(0).exactOptional(),
    })
    .exactOptional(),
});

const instrument = z.discriminatedUnion("kind", [
  z.strictObject({
    kind: z.literal("voltmeter"),
    name,
    inputResistance: positive.exactOptional(),
    inputTolerance: share.exactOptional(),
    accuracy: accuracy.exactOptional(),
  }),
  z.strictObject({ kind: z.literal("insulation-tester"), name, accuracy: accuracy.exactOptional() }),
  z.strictObject({ kind: z.literal("insulation-monitor"), name, accuracy: accuracy.exactOptional() }),
  z.strictObject({ kind: z.literal("leakage-clamp"), name, accuracy: accuracy.exactOptional() }),
]);

const measured = {
  with: name,
  on: name,
  segment: z.tuple([z.int().min(0), z.int().min(0)]).exactOptional(),
  isolated: z.array(name).max(MOST_STRINGS).exactOptional(),
};
const pole = z.enum(["+", "-"]);
const reading = z.discriminatedUnion("kind", [
  z.strictObject({
    kind: z.literal("voltage"),
    ...measured,
    from: pole,
    to: z.enum(["+", "-", "earth"]),
    shunt: positive.exactOptional(),
    value: z.number().min(0).max(5000),
  }),
  z.strictObject({
    kind: z.literal("insulation"),
    ...measured,
    from: z.enum(["+", "-", "shorted"]),
    to: z.literal("earth"),
    testVoltage: z.number(),
    value: z.number(),
  }),
  z.strictObject({
    kind: z.literal("leakage"),
    ...measured,
    circuit: name,
    from: pole,
    to: z.literal("earth"),
    shunt: positive,
    value: z.number().min(0),
  }),
]);

const setUp = z.strictObject({
  strings: z.array(stringSpec).min(1).max(MOST_STRINGS),
  circuits: z
    .array(
      z.strictObject({
        id: name,
        strings: z.array(name).max(MOST_STRINGS),
        blockingDiodes: z.boolean().exactOptional(),
      }),
    )
    .max(MOST_STRINGS),
  instruments: z.array(instrument).max(100),
  functionalEarth: z
    .strictObject({ on: name, pole, through: z.number().min(0).exactOptional(), opened: z.boolean() })
    .exactOptional(),
  conditions: z.strictObject({
    mismatch: share.exactOptional(),
    drift: share.exactOptional(),
    wet: z.boolean().exactOptional(),
    underLoad: z.boolean().exactOptional(),
  }),
  readings: z.tuple([]),
  costs: z.record(z.enum(["openConnector", "isolateString", "reading", "waitDry"]), positive.optional()),
  priors: z
    .strictObject({
      connector: z.number().min(0),
      inModule: z.number().min(0),
      homeRun: z.number().min(0),
      combiner: z.number().min(0),
    })
    .exactOptional(),
  recorded: z.array(name).max(100).exactOptional(),
});

const stamp = {
  id,
  writer: id,
  n: z.int().min(1).max(100_000),
  at: instant,
  // Who it was, says the session and not the sender.
  by: z.null(),
};
const ids = z.array(id).max(1000);
const entry = z.discriminatedUnion("kind", [
  z.strictObject({
    kind: z.literal("reading"),
    ...stamp,
    reading,
    seen: ids,
    recorded: z.array(name).max(100),
  }),
  z.strictObject({ kind: z.literal("drop"), ...stamp, of: id }),
  z.strictObject({ kind: z.literal("restore"), ...stamp, of: id }),
  z.strictObject({ kind: z.literal("choose"), ...stamp, of: id, over: ids }),
  z.strictObject({ kind: z.literal("keep-all"), ...stamp, of: ids }),
  z.strictObject({ kind: z.literal("notes"), ...stamp, text: long, seen: ids }),
  z.strictObject({ kind: z.literal("found"), ...stamp, text: long.min(1) }),
]);

export const visitParams = z.strictObject({ id });
export const photoParams = z.strictObject({ id, photo: id });
export const photoQuery = z.strictObject({ name, takenAt: z.coerce.number().int().min(0) });

export interface VisitHanded {
  readonly beginning: VisitBeginning;
  readonly entries: readonly VisitEntry[];
}

/** The body of a hand-over: what the visit is about, with each part of what was entered on it. */
export const visitHanded = z.strictObject({
  beginning: z.strictObject({ title: name, site: name, case: name.nullable(), begunAt: instant, setUp }),
  entries: z.array(entry).max(MOST_ENTRIES_AT_ONCE),
});

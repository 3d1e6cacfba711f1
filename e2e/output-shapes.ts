/** The shape that programs outside may rely on, as JSON Schema. Fields may be added, so none is forbidden. */
const quantity = { type: "number" } as const;
const text = { type: "string" } as const;
const texts = { type: "array", items: text } as const;

const object = (properties: Readonly<Record<string, unknown>>, optional: readonly string[] = []): object => ({
  type: "object",
  properties,
  required: Object.keys(properties).filter((name) => !optional.includes(name)),
});
const list = (items: object): object => ({ type: "array", items });
const orNull = (schema: object): object => ({ anyOf: [schema, { type: "null" }] });
const oneOf = (...values: readonly unknown[]): object => ({ enum: values });

const interval = { ohms: quantity, low: quantity, high: quantity };
const place = { string: text, at: quantity };

export const findingShape = object({
  format: { const: "earthbell.finding/1" },
  verdict: oneOf("located", "narrowed", "cannot-tell", "no-fault", "more-than-one", "inconsistent"),
  insulation: list(object({ string: text, ...interval })),
  places: list(
    object({
      ...place,
      what: oneOf("junction", "module", "home-run", "combiner"),
      label: text,
      probability: { type: "number", minimum: 0.001, maximum: 1 },
    }),
  ),
  credible: object({ level: quantity, places: list(object(place)) }),
  faultResistance: orNull(object(interval)),
  hypotheses: list(object({ faults: { type: "integer" }, probability: quantity })),
  next: list(
    object(
      {
        action: oneOf(
          "read",
          "read-with-shunt",
          "tester",
          "isolate-string",
          "open-connector",
          "confirm",
          "wait-dry",
        ),
        string: text,
        at: quantity,
        minutes: quantity,
        bits: quantity,
        requires: texts,
        readings: list(object({ with: text, on: text, from: text, to: text })),
      },
      ["at"],
    ),
  ),
  suspect: list(object({ reading: { type: "integer" }, code: text, blunder: text, settle: text })),
  codes: texts,
  warnings: texts,
});

const sourced = (properties: Readonly<Record<string, unknown>>): object =>
  orNull(object({ ...properties, source: text, tag: text }));

const findings = list(
  object({ code: text, severity: oneOf("fault", "caution", "note"), text, figures: { type: "object" } }, [
    "figures",
  ]),
);

export const assessmentShape = object({
  format: { const: "earthbell.assessment/1" },
  site: text,
  arrays: list(
    object({
      array: text,
      powerWatts: quantity,
      areaM2: orNull(quantity),
      maxVoltage: orNull(object({ volts: quantity, method: text, temperatureC: quantity })),
      duty: object({
        alarm: oneOf("required", "not-required", "undecided"),
        rulePack: orNull(text),
        reasons: list(object({ text, source: text, tag: text })),
        missing: texts,
      }),
      insulationThreshold: sourced({ ohms: quantity }),
      insulationTest: sourced({ testVoltage: quantity, minimumOhms: quantity }),
      residualLimit: sourced({ continuousMilliamps: quantity }),
      healthyFloor: orNull(object({ ohms: quantity, marginToThreshold: orNull(quantity) })),
      proofResistor: orNull(
        object({
          ohms: quantity,
          watts: quantity,
          milliamps: quantity,
          elements: { type: "integer" },
          warnings: texts,
        }),
      ),
    }),
  ),
  paths: list(
    object({ path: text, verdict: oneOf("meets", "falls-short", "unproven", "cannot-tell"), findings }),
  ),
  owner: object({ informed: oneOf(true, false, "unknown"), findings }),
  warnings: texts,
});

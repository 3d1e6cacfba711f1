import { readdirSync } from "node:fs";
import Ajv from "ajv";
import Ajv2020 from "ajv/dist/2020.js";
import { describe, expect, it } from "vitest";
import { assessmentShape, findingShape } from "./output-shapes.ts";
import { run } from "./run-cli.ts";

const ajv = new Ajv({ allErrors: true });
const site = "e2e/fixtures/windmill.yaml";
const visit = "e2e/fixtures/windmill-visit.yaml";

interface Finding {
  readonly verdict: string;
  readonly places: readonly { readonly at: number; readonly probability: number }[];
  readonly faultResistance: { readonly ohms: number; readonly low: number; readonly high: number };
  readonly next: readonly { readonly requires: readonly string[]; readonly readings: readonly object[] }[];
}
interface Assessment {
  readonly arrays: readonly {
    readonly powerWatts: number;
    readonly maxVoltage: { readonly volts: number };
    readonly duty: { readonly alarm: string; readonly rulePack: string };
    readonly insulationThreshold: { readonly ohms: number };
    readonly healthyFloor: { readonly ohms: number };
  }[];
  readonly paths: readonly { readonly path: string }[];
}

describe("earthbell locate --json", () => {
  it("names the junction of a fault drawn by hand, with its resistance inside the interval", async () => {
    const { status, out, err } = await run(["locate", visit, "--json"]);
    expect([status, err]).toEqual([0, ""]);
    const finding = JSON.parse(out) as Finding;
    expect(finding.verdict).toBe("located");
    expect(finding.places[0]).toMatchObject({ string: "S1", at: 7, what: "junction" });
    expect(finding.faultResistance.low).toBeLessThan(50_000);
    expect(finding.faultResistance.high).toBeGreaterThan(50_000);
  });

  it("asks for readings and preconditions with the next step", async () => {
    const { out } = await run(["locate", visit, "--json"]);
    const [next] = (JSON.parse(out) as Finding).next;
    expect(next?.readings.length).toBeGreaterThan(0);
    expect(next?.requires.length).toBeGreaterThan(0);
  });
});

describe("earthbell assess --json", () => {
  it("gives figures that arithmetic on the file gives too", async () => {
    const { status, out, err } = await run(["assess", site, "--json", "--on", "2026-06-01"]);
    expect([status, err]).toEqual([0, ""]);
    const [array] = (JSON.parse(out) as Assessment).arrays;
    // 28 modules of 400 W; 14 × 48.0 V × (1 + 0.0027 × 27); 40 MΩ·m² over 28 × 1.9 m².
    expect(array?.powerWatts).toBeCloseTo(11_200, 6);
    expect(array?.maxVoltage.volts).toBeCloseTo(720.99, 2);
    expect(array?.healthyFloor.ohms).toBeCloseTo(40e6 / 53.2, -1);
  });

  it("finds the duty of an Australian array of 2019 above 120 V", async () => {
    const { out } = await run(["assess", site, "--json"]);
    const [array] = (JSON.parse(out) as Assessment).arrays;
    // AS/NZS 5033:2014 cl. 3.4.3 [common practice]; threshold up to 20 kW [memory].
    expect(array?.duty).toMatchObject({ alarm: "required", rulePack: "au-nz-5033-2014" });
    expect(array?.insulationThreshold.ohms).toBe(30_000);
  });
});

describe("the shape of results", () => {
  const visits = readdirSync("demo/visits").map((name) => `demo/visits/${name}`);
  const sites = readdirSync("demo/sites").map((name) => `demo/sites/${name}`);

  it.each([visit, ...visits])("of %s is that of a finding", async (file) => {
    const { status, out } = await run(["locate", file, "--json"]);
    expect(status).toBe(0);
    expect(ajv.validate(findingShape, JSON.parse(out)), ajv.errorsText()).toBe(true);
    const sum = (JSON.parse(out) as Finding).places.reduce(
      (total, { probability }) => total + probability,
      0,
    );
    expect(sum).toBeLessThanOrEqual(1 + 1e-9);
  });

  it("of every demo site and the fixture is that of an assessment", async () => {
    const { status, out } = await run(["assess", site, ...sites, "--json"]);
    expect(status).toBe(0);
    const lines = out.trimEnd().split("\n");
    expect(lines).toHaveLength(sites.length + 1);
    for (const line of lines)
      expect(ajv.validate(assessmentShape, JSON.parse(line)), ajv.errorsText()).toBe(true);
  });
});

describe("earthbell schema", () => {
  it.each(["site", "visit", "rule-pack", "rule-overrides", "advice", "desk"])(
    "prints a JSON Schema of %s that can be compiled",
    async (name) => {
      const { status, out } = await run(["schema", name]);
      expect(status).toBe(0);
      const schema = JSON.parse(out) as object;
      const open = new Ajv2020({ strict: false, logger: false });
      expect(open.validateSchema(schema)).toBe(true);
      expect(() => open.compile(schema)).not.toThrow();
    },
  );
});

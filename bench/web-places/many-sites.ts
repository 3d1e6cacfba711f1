import type { Alarm, Case, Drill } from "@earthbell/model";
import type { DeskStore } from "../../apps/desk/src/store/index.ts";
import type { Watch } from "../../apps/desk/src/watch/index.ts";

const HOUR = 3_600_000;
const DAY = 24 * HOUR;
const ISLES = ["Tolva", "Hennick", "Skerry", "Orrin", "Vassay", "Lamb Holm", "Sület", "Nóra"];
const USES = ["creamery", "kirk hall", "boathouse", "pump house", "cannery", "mill", "school", "clinic"];
const FILE = `format: earthbell.site/1
site: {id: site-00000, name: NAME, place: {country: AU, region: VIC, timezone: Australia/Melbourne, latitude: -40, longitude: 160}, lowestTemperature: -3 °C}
modules: [{id: M1, technology: crystalline-silicon, pmax: 260 W, voc: 38.0 V, area: 1.63 m2}]
inverters: [{id: INV1, ratedPower: 10 kVA, separation: none, insulationCheck: {threshold: 30 kΩ, at: [start]}}]
arrays: [{id: A1, inverter: INV1, module: M1, installed: 2019-04-20, earthing: floating, mounting: building, strings: [{id: S1, modules: 13}]}]
people:
  - {id: owner, role: owner, address: {email: owner@example.net}}
  - {id: desk, role: service, address: {email: desk@example.org}}
paths: [{id: P1, arrays: [A1], signal: message, to: [owner, desk], repeatEvery: 60 min, link: {availability: 0.98, meanOutage: 9 h, supervisedEvery: 24 h}}]
`;

const idOf = (n: number): string => `site-${String(n).padStart(5, "0")}`;
const nameOf = (n: number): string => `${ISLES[n % 8]!} ${USES[Math.floor(n / 8) % 8]!} ${n}`;

/** Which sites have what: shares of a fleet, the same at any size; a small one still has one of each. */
const HAS = {
  openCase: (n: number) => n % 97 === 3,
  closedCase: (n: number) => n % 10 === 4,
  silentPath: (n: number) => n % 53 === 5,
  detectorSign: (n: number) => n % 31 === 6,
} as const;

/** Fills a store with so many sites as they stand after some years: files, alarms, cases, drills, messages, insulation. */
export async function putManySites(
  store: DeskStore,
  watch: Watch,
  sites: number,
  now: number,
): Promise<void> {
  const put = await watch.putSite(FILE, "bench");
  if (!put.ok) throw new Error(JSON.stringify(put));
  const model = await store.db.selectFrom("site").selectAll().executeTakeFirstOrThrow();
  await store.amend(async (tx) => {
    await tx.deleteFrom("site").execute();
    await tx.deleteFrom("path_watch").execute();
    for (let from = 0; from < sites; from += 100) {
      const part = Array.from({ length: Math.min(100, sites - from) }, (_, i) => from + i);
      const named = (text: string, n: number) =>
        text.replaceAll("site-00000", idOf(n)).replaceAll("NAME", nameOf(n));
      const rows = part.map((n) => ({
        ...model,
        ...{ id: idOf(n), digest: `digest-${n}`, put_at: now - n * HOUR },
        ...{ text: named(model.text, n), site_json: named(model.site_json, n) },
        limits_json: named(model.limits_json, n),
      }));
      await tx.insertInto("site").values(rows).execute();
      const rowsOf = <Row>(make: (n: number) => readonly Row[]): readonly Row[] => part.flatMap(make);
      const tables = {
        path_watch: rowsOf((n) => [watchOf(n, now)]),
        last_known: rowsOf((n) => [heardOf(n, now)]),
        insulation_day: rowsOf((n) => daysOf(n, now)),
        drill: rowsOf((n) => drillsOf(n, now)),
        alarm: rowsOf((n) => alarmsOf(n, now)),
        fault_case: rowsOf((n) => casesOf(n, now)),
        outbox: rowsOf((n) => messagesOf(n, now)),
      };
      for (const [table, values] of Object.entries(tables))
        if (values.length > 0)
          await tx
            .insertInto(table as "drill")
            .values(values as never)
            .execute();
    }
  });
}

function watchOf(n: number, now: number) {
  const [site, silent] = [idOf(n), HAS.silentPath(n)];
  const watch = {
    site,
    path: "P1",
    lifeEveryMin: 1440,
    lastLifeAt: now - HOUR,
    deadlineAt: now + DAY,
    silent,
  };
  return {
    ...{ site, path_id: "P1", deadline_at: watch.deadlineAt, silent: silent ? 1 : 0 },
    watch_json: JSON.stringify(watch),
  };
}

function heardOf(n: number, now: number) {
  const ohms = 50_000 * (1 + ((n * 7919) % 97));
  return {
    ...{ site: idOf(n), array_id: "A1", device: "INV1", source: "bench", kind: "insulation", at: now - HOUR },
    ...{ value_number: ohms, value_word: null, quality: "good", key: `k${n}`, received_at: now - HOUR },
    good_at: now - HOUR,
  };
}

function daysOf(n: number, now: number) {
  return Array.from({ length: 12 }, (_, day) => {
    const ohms = 50_000 * (1 + ((n * 7919 + day) % 97));
    return {
      ...{ site: idOf(n), array_id: "A1", device: "INV1" },
      date: new Date(now - (day + 1) * DAY).toISOString().slice(0, 10),
      ...{ lowest_ohms: ohms, highest_ohms: 2 * ohms, morning_lowest_ohms: ohms },
    };
  });
}

function drillsOf(n: number, now: number) {
  return [0, 1, 2].map((year) => {
    const startedAt = now - ((n % 395) + 365 * year) * DAY;
    const outcome = n % 211 === 7 && year === 0 ? ("missed" as const) : ("passed" as const);
    const drill: Drill = {
      ...{ id: `D${n}-${year}`, site: idOf(n), path: "P1", trigger: "scheduled", by: null, startedAt },
      ...{ answerByAt: startedAt + DAY, leftOut: [] },
      recipients: ["owner", "desk"].map((person) => ({ person, acknowledgedAt: startedAt + HOUR })),
      ended: { at: startedAt + HOUR, outcome },
    };
    return {
      ...{ id: drill.id, site: drill.site, path_id: "P1", started_at: startedAt, outcome, reading_key: null },
      ...{ answer_by_at: drill.answerByAt, ended_at: startedAt + HOUR, drill_json: JSON.stringify(drill) },
    };
  });
}

function alarmOf(n: number, sign: Alarm["sign"], subject: Alarm["subject"], activeAt: number) {
  const alarm: Alarm = {
    ...{
      id: `${idOf(n)}:${sign}`,
      site: idOf(n),
      subject,
      sign,
      condition: "active",
      occurrence: 1,
      activeAt,
    },
    ...{ clearedAt: null, acknowledged: n % 2 === 0 ? { by: "Ann", at: activeAt } : null, latched: true },
    chatter: { clearsAt: [], sinceAt: null, lastHeard: null },
    ...{ staleAt: null, shelf: null, suppression: null, maintenance: null },
  };
  return {
    ...{ id: alarm.id, site: alarm.site, sign, condition: "active" as const, occurrence: 1 },
    ...{ array_id: subject.kind === "array" ? subject.array : null, person: null },
    path_id: subject.kind === "path" ? subject.path : null,
    ...{ active_at: activeAt, alarm_json: JSON.stringify(alarm) },
  };
}

const ARRAY = { kind: "array", array: "A1" } as const;

function alarmsOf(n: number, now: number) {
  const at = now - (n % 1000) * HOUR;
  return [
    ...(HAS.openCase(n) ? [alarmOf(n, "earth-fault-bit", ARRAY, at)] : []),
    ...(HAS.silentPath(n) ? [alarmOf(n, "path-silent", { kind: "path", path: "P1", person: null }, at)] : []),
    ...(HAS.detectorSign(n) ? [alarmOf(n, "detector-silent", ARRAY, at)] : []),
  ];
}

function casesOf(n: number, now: number) {
  if (!HAS.openCase(n) && !HAS.closedCase(n)) return [];
  const closedAt = HAS.openCase(n) ? null : now - (n % 500) * DAY;
  const openedAt = (closedAt ?? now - (n % 1000) * HOUR) - HOUR;
  const open = closedAt === null ? [`${idOf(n)}:earth-fault-bit`] : [];
  const one: Case = {
    ...{ id: `C${n}`, site: idOf(n), array: "A1", openedAt, recurrenceOf: null, lastBeganAt: openedAt },
    ...{
      alarms: open,
      presentAlarms: open,
      latchedAlarms: open,
      cause: null,
      measured: null,
      ownerTold: null,
    },
    closed: closedAt === null ? null : { by: "Ann", at: closedAt },
    timeline: Array.from({ length: 12 }, (_, i) => ({
      ...{ at: openedAt + i * HOUR, by: i % 2 === 0 ? null : "Ann" },
      text: "Told the owner and the desk by mail that the fault is there, as the path asks for.",
    })),
  };
  return [
    {
      ...{ id: one.id, site: one.site, array_id: "A1", opened_at: openedAt, closed_at: closedAt },
      case_json: JSON.stringify(one),
    },
  ];
}

function messagesOf(n: number, now: number) {
  return [0, 1].map((i) => {
    const at = now - ((n * 37 + i) % 10_000) * HOUR;
    const state = n % 400 === 9 ? ("refused" as const) : ("sent" as const);
    return {
      ...{ key: `M${n}-${i}`, channel: "email", address: "owner@example.net", person: "owner" },
      ...{ site: idOf(n), matter: `C${n}`, kind: "fault", sequence: i, state, envelope_json: "{}" },
      ...{ reason: "An earth fault is reported and nobody has answered.", written_at: at, due_at: at },
      ...{ attempts: 1, lease_until: null, claimed_by: null, finished_at: at + 1000, reply: "250 taken" },
    };
  });
}

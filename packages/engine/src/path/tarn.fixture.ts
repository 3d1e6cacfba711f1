import type { AnnunciatorPath, IndicatorPath, MessagePath, Site, WeeklyHours } from "../assess/site.ts";

/** Hours of every day of the week, for tests. */
export function daily(fromHour: number, toHour: number): WeeklyHours {
  return Array.from({ length: 7 }, (_, day) => ({
    fromMinute: day * 1440 + fromHour * 60,
    toMinute: day * 1440 + toHour * 60,
  }));
}

export const message = {
  id: "P1",
  arrays: ["A1"],
  signal: "message",
  to: ["owner", "desk"],
  repeatEvery: 60,
  until: ["acknowledged", "cleared"],
  link: { availability: 0.98, meanOutage: 540, supervisedEvery: 1440 },
} as unknown as MessagePath;

export const annunciator = {
  id: "P2",
  arrays: ["A1"],
  signal: "annunciator",
  loop: {
    supply: 12,
    supplyMinimum: 10.5,
    battery: 7,
    quiescentCurrent: 0.02,
    cable: { area: 1.5, class: 5, length: 60, temperature: 50 },
    load: { kind: "sounder", current: 0.3, minimumVoltage: 9, level: 100 },
    fuse: 1,
    sense: "de-energise-to-alarm",
    supervised: true,
  },
  listener: { distance: 10, barriers: [], ambient: 50, present: daily(6, 22) },
} as unknown as AnnunciatorPath;

export const indicator: IndicatorPath = { id: "P3", arrays: ["A1"], signal: "indicator" };

/** An invented dairy on which every path is sound and proved; tests spoil one thing at a time. */
export const tarn = {
  id: "tarn-hill",
  place: { country: "AU", timezone: "Australia/Melbourne", latitudeDeg: -37.1, longitudeDeg: 143.9 },
  modules: [{ id: "M1", pmax: 410, voc: 49.5 }],
  inverters: [
    {
      id: "INV1",
      ratedPower: 10_000,
      insulationCheck: { at: ["start"] },
      residualMonitor: true,
      where: { description: "north wall", accessible: true, passesPerDay: 6, viewingDistance: 4 },
      relay: { dcRating: { voltage: 30, current: 1 }, operatesOn: "any-fault" },
      defaultPasswordChanged: true,
    },
  ],
  arrays: [
    {
      id: "A1",
      inverter: "INV1",
      module: "M1",
      installed: "2019-03-14",
      strings: [{ id: "S1", modules: 14 }],
    },
  ],
  people: [
    { id: "owner", address: { email: "owner@example.org" }, reads: daily(6, 21), checksPerDay: 5 },
    { id: "desk", address: { email: "faults@example.org" }, reads: daily(7, 17), checksPerDay: 20 },
  ],
  paths: [message, annunciator, indicator],
  proofs: ["P1", "P2", "P3"].map((path) => ({
    path,
    kind: "test-resistor",
    on: "2026-02-03",
    by: "desk",
    acknowledgedAfter: 14,
  })),
  ownerInformed: { on: "2019-03-20", document: "notice-3" },
} as unknown as Site;

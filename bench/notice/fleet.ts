import type {
  Amperes,
  DecibelsA,
  Metres,
  Minutes,
  Ohms,
  Ratio,
  Site,
  VoltAmperes,
  Volts,
  Watts,
  WeeklyHours,
} from "@earthbell/engine";

const ZONES = [
  ["Australia/Melbourne", -37, 144],
  ["Europe/Berlin", 52, 11],
  ["America/Denver", 40, -105],
  ["Pacific/Auckland", -41, 175],
  ["Asia/Kolkata", 20, 77],
  ["Europe/Oslo", 64, 12],
] as const;
const WORK = [0, 1, 2, 3, 4];
const WEEK = [...WORK, 5, 6];

const hours = (days: readonly number[], from: number, to: number): WeeklyHours =>
  days.map((day) => ({ fromMinute: day * 1440 + from * 60, toMinute: day * 1440 + to * 60 }));

function person(id: string, reads: WeeklyHours, random: () => number): Site["people"][number] {
  return {
    id,
    address: { email: `${id}@example.org` },
    reads,
    checksPerDay: 1 + Math.floor(20 * random()),
    // One in ten is away for three weeks.
    ...(random() < 0.1 ? { away: [{ from: "2026-02-02", to: "2026-02-22" }] } : {}),
  };
}

function paths(random: () => number): Site["paths"] {
  return [
    {
      id: "P1",
      arrays: ["A"],
      signal: "message",
      to: ["owner", "desk", "office", "neighbour"],
      repeatEvery: 60 as Minutes,
      link: {
        availability: (0.9 + 0.0999 * random()) as Ratio,
        meanOutage: 600 as Minutes,
        supervisedEvery: 1440 as Minutes,
      },
    },
    {
      id: "P2",
      arrays: ["A"],
      signal: "annunciator",
      loop: { supervised: random() < 0.5 },
      listener: { distance: 10 as Metres, ambient: 50 as DecibelsA, present: hours(WEEK, 5, 10) },
    },
    { id: "P3", arrays: ["A"], signal: "indicator" },
  ];
}

/**
 * An invented site with three paths and four people.
 *
 * One detector in five watches insulation all day, two in five have a residual-current monitor as well as a start check.
 */
export function inventedSite(id: string, random: () => number): Site {
  const [timezone, latitudeDeg, longitudeDeg] = ZONES[Math.floor(random() * ZONES.length)]!;
  const kind = random();
  const at: readonly ("start" | "continuous")[] = kind < 0.2 ? ["start", "continuous"] : ["start"];
  const modules = 8 + Math.floor(14 * random());
  return {
    id,
    place: { country: "AU", timezone, latitudeDeg, longitudeDeg },
    modules: [{ id: "M", pmax: 410 as Watts, voc: 49.5 as Volts, isc: 10.9 as Amperes }],
    inverters: [
      {
        id: "INV",
        ratedPower: 10_000 as VoltAmperes,
        separation: "none",
        insulationCheck: { threshold: 40_000 as Ohms, at },
        residualMonitor: kind > 0.6,
        where: {
          accessible: true,
          passesPerDay: Math.ceil(8 * random()),
          viewingDistance: 4 as Metres,
        },
      },
    ],
    arrays: [
      {
        id: "A",
        inverter: "INV",
        module: "M",
        earthing: "floating",
        strings: [
          { id: "S1", modules },
          { id: "S2", modules },
        ],
      },
    ],
    people: [
      person("owner", hours(WEEK, 6, 21), random),
      person("desk", hours(WORK, 7, 17), random),
      person("office", hours(WORK, 8, 17), random),
      person("neighbour", hours(WEEK, 8, 17), random),
    ],
    paths: paths(random),
    proofs: [],
    ownerInformed: { on: "2026-01-05" },
  };
}

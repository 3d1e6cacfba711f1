import { afterEach, describe, expect, it } from "vitest";
import { registerMap } from "../../fleet/register-map.ts";
import type { SunspecGateway } from "./gateway-loop.ts";
import { PlayedClock } from "./played-clock.fixture.ts";
import {
  openPlayed,
  PlayedDesk,
  PlayedGateway,
  quietLog,
  setFault,
  setKiloohms,
  settingsOf,
} from "./played-gateway.fixture.ts";
import { type SunspecListener, startSunspecListener } from "./sunspec-listener.ts";

const START = Date.UTC(2026, 5, 1, 8);
const MINUTE = 60_000;

let running: { readonly listener: SunspecListener; readonly clock: PlayedClock } | null = null;

function listen(gateways: Readonly<Record<string, PlayedGateway>>, settings: readonly SunspecGateway[]) {
  const clock = new PlayedClock(START);
  const desk = new PlayedDesk();
  const parts = { accept: desk.accept, clock, random: () => 0.5, log: quietLog, open: openPlayed(gateways) };
  const listener = startSunspecListener({ gateways: settings }, parts);
  running = { listener, clock };
  return { clock, desk, listener };
}

async function stop(): Promise<void> {
  const { listener, clock } = running!;
  running = null;
  const stopped = listener.stop();
  await clock.pass(10_000);
  await stopped;
}

afterEach(async () => {
  if (running !== null) await stop();
});

describe("a device that answers", () => {
  it("is found once, and then read by one request a poll", async () => {
    const gateway = new PlayedGateway();
    const unit = gateway.add(1);
    const { clock, desk, listener } = listen({ g: gateway }, [settingsOf("g", [1])]);
    await clock.pass(MINUTE);
    const first = unit.asked.findLastIndex(({ read }) => read.count === 64) + 1;
    const polls = unit.asked.slice(first);
    expect(new Set(polls.map(({ read }) => JSON.stringify(read))).size).toBe(1);
    expect(polls.map(({ at }) => at - START)).toEqual([5000, 15_000, 25_000, 35_000, 45_000, 55_000]);
    expect(gateway.opened).toHaveLength(1);
    expect(desk.of("g-1", "earth-fault-bit")).toEqual([false]);
    expect(desk.of("g-1", "insulation")).toEqual([2_000_000]);
    expect(desk.of("g-1", "device-state")).toEqual(["running"]);
    expect(listener.health()).toMatchObject({ state: "hearing", known: 1, unheard: 0 });
    expect(listener.devices()[0]).toMatchObject({ hears: true, identity: { serial: "S-1" }, fault: null });
  });

  it("is told of when it changes, at once when it is an earth fault, and now and then otherwise", async () => {
    const gateway = new PlayedGateway();
    const unit = gateway.add(1);
    const { clock, desk } = listen({ g: gateway }, [settingsOf("g", [1])]);
    await clock.pass(14_000);
    setFault(unit, true);
    setKiloohms(unit, 12);
    await clock.pass(1000);
    expect(desk.of("g-1", "earth-fault-bit")).toEqual([false, true]);
    expect(desk.of("g-1", "insulation")).toEqual([2_000_000, 12_000]);
    await clock.pass(10 * MINUTE);
    expect(desk.of("g-1", "earth-fault-bit")).toEqual([false, true, true]);
    const beats = desk.of("g-1", "heartbeat").length;
    expect(beats).toBeGreaterThanOrEqual(10);
    expect(beats).toBeLessThanOrEqual(12);
  });

  it("may refuse to be read across models, and is then read model by model without asking again", async () => {
    const gateway = new PlayedGateway();
    const unit = gateway.add(1);
    unit.manner = "refuses across models";
    const { clock, desk } = listen({ g: gateway }, [settingsOf("g", [1])]);
    await clock.pass(MINUTE);
    expect(unit.asked.filter(({ read }) => read.count > 66)).toHaveLength(1);
    expect(desk.of("g-1", "insulation")).toEqual([2_000_000]);
  });

  it("is found anew when its models move", async () => {
    const gateway = new PlayedGateway();
    const unit = gateway.add(1);
    const { clock, desk, listener } = listen({ g: gateway }, [settingsOf("g", [1])]);
    await clock.pass(MINUTE);
    unit.map = registerMap("floating-point", 40_000, "S-1");
    setFault(unit, true);
    await clock.pass(10_000);
    expect(desk.of("g-1", "earth-fault-bit")).toEqual([false, true]);
    expect(listener.health().state).toBe("hearing");
  });

  it("is known as another device by its serial number, within ten minutes", async () => {
    const gateway = new PlayedGateway();
    const unit = gateway.add(1);
    const { clock, listener } = listen({ g: gateway }, [settingsOf("g", [1])]);
    await clock.pass(MINUTE);
    unit.map = registerMap("inverter", 40_000, "S-2");
    await clock.pass(11 * MINUTE);
    const [device] = listener.devices();
    expect(device?.problems.map(({ code }) => code)).toEqual(["SUNSPEC_DEVICE_CHANGED"]);
    expect(device?.identity?.serial).toBe("S-2");
  });
});

describe("a device that does not answer", () => {
  it("is asked more and more seldom, and its neighbours as often as before", async () => {
    const gateway = new PlayedGateway();
    const [silent, ...others] = [gateway.add(1), gateway.add(2), gateway.add(3)];
    silent.manner = "silent";
    const { clock, listener } = listen({ g: gateway }, [settingsOf("g", [1, 2, 3])]);
    await clock.pass(30 * MINUTE);
    for (const { asked } of others) {
      const polls = asked.filter(({ read }) => read.count > 66).map(({ at }) => at);
      expect(polls.length).toBeGreaterThan(170);
      const gaps = polls.slice(1).map((at, index) => at - polls[index]!);
      expect(Math.max(...gaps)).toBeLessThanOrEqual(10_000 + 2000);
    }
    expect(silent.asked.length).toBeLessThan(15);
    expect(listener.health()).toMatchObject({ state: "partly-deaf", known: 3, unheard: 1 });
    expect(listener.devices()[0]?.fault?.code).toBe("SUNSPEC_NO_ANSWER");
    expect(gateway.opened).toHaveLength(1);
  });

  it("has what it last said taken back after three intervals, and is told anew when it comes back", async () => {
    const gateway = new PlayedGateway();
    const [unit] = [gateway.add(1), gateway.add(2)];
    const { clock, desk, listener } = listen({ g: gateway }, [settingsOf("g", [1, 2])]);
    await clock.pass(MINUTE);
    unit.manner = "silent";
    await clock.pass(20_000);
    expect(desk.of("g-1", "earth-fault-bit")).toEqual([false]);
    await clock.pass(MINUTE);
    expect(desk.of("g-1", "earth-fault-bit")).toEqual([false, "stale"]);
    expect(desk.of("g-1", "insulation")).toEqual([2_000_000, "stale"]);
    expect(listener.health().unheard).toBe(1);
    const beats = desk.of("g-1", "heartbeat").length;
    await clock.pass(20 * MINUTE);
    expect(desk.of("g-1", "earth-fault-bit")).toEqual([false, "stale"]);
    expect(desk.of("g-1", "heartbeat")).toHaveLength(beats);
    unit.manner = "answers";
    await clock.pass(6 * MINUTE);
    expect(desk.of("g-1", "earth-fault-bit").slice(0, 3)).toEqual([false, "stale", false]);
    expect(listener.health().state).toBe("hearing");
  });

  it.each(["refuses", "garbles"] as const)("does not disturb its neighbour when it %s", async (manner) => {
    const gateway = new PlayedGateway();
    const [liar, honest] = [gateway.add(1), gateway.add(2)];
    liar.manner = manner;
    const { clock, desk, listener } = listen({ g: gateway }, [settingsOf("g", [1, 2])]);
    await clock.pass(5 * MINUTE);
    setFault(honest, true);
    await clock.pass(10_000);
    expect(desk.of("g-2", "earth-fault-bit")).toEqual([false, true]);
    expect(listener.health()).toMatchObject({ state: "partly-deaf", unheard: 1 });
  });
});

describe("a gateway", () => {
  it("that is out of reach is tried at longer and longer intervals, at most a minute apart, and disturbs no other", async () => {
    const [lost, sound] = [new PlayedGateway(), new PlayedGateway()];
    lost.add(1);
    lost.reachable = false;
    const unit = sound.add(1);
    const { clock, desk, listener } = listen({ lost, sound }, [
      settingsOf("lost", [1]),
      settingsOf("sound", [1]),
    ]);
    await clock.pass(10 * MINUTE);
    const gaps = lost.opened.slice(1).map((at, index) => at - lost.opened[index]!);
    for (const [index, gap] of gaps.slice(1).entries()) expect(gap).toBeGreaterThanOrEqual(gaps[index]!);
    expect(Math.max(...gaps)).toBeLessThanOrEqual(MINUTE);
    expect(unit.asked.filter(({ read }) => read.count > 66)).toHaveLength(60);
    expect(listener.health()).toMatchObject({ state: "partly-deaf", known: 2, unheard: 1 });
    expect(listener.devices()[0]?.fault?.code).toBe("SUNSPEC_NO_CONNECTION");
    lost.reachable = true;
    await clock.pass(MINUTE + 1000);
    expect(listener.health().state).toBe("hearing");
    expect(desk.of("lost-1", "earth-fault-bit")).toEqual([false]);
  });

  it("that breaks the connection off is connected to again, and compared with the one before", async () => {
    const gateway = new PlayedGateway();
    const unit = gateway.add(1);
    const { clock, listener } = listen({ g: gateway }, [settingsOf("g", [1])]);
    await clock.pass(MINUTE);
    gateway.reset();
    unit.map = registerMap("inverter", 40_000, "S-9");
    await clock.pass(30_000);
    expect(gateway.opened).toHaveLength(2);
    expect(listener.devices()[0]).toMatchObject({ hears: true, identity: { serial: "S-9" } });
  });

  it("that goes silent behind an open connection is connected to again", async () => {
    const gateway = new PlayedGateway();
    const units = [gateway.add(1), gateway.add(2)];
    const { clock, listener } = listen({ g: gateway }, [settingsOf("g", [1, 2])]);
    await clock.pass(MINUTE);
    for (const unit of units) unit.manner = "silent";
    await clock.pass(2 * MINUTE);
    expect(gateway.opened.length).toBeGreaterThan(1);
    expect(listener.health()).toMatchObject({ state: "deaf", unheard: 2 });
  });

  it("to a slow line rests between requests", async () => {
    const gateway = new PlayedGateway();
    const [first, second] = [gateway.add(1), gateway.add(2)];
    const { clock } = listen({ g: gateway }, [settingsOf("g", [1, 2], { restMs: 100 })]);
    await clock.pass(MINUTE);
    const instants = [...first.asked, ...second.asked].map(({ at }) => at).sort((one, other) => one - other);
    expect(Math.min(...instants.slice(1).map((at, index) => at - instants[index]!))).toBeGreaterThanOrEqual(
      100,
    );
  });
});

describe("a desk that cannot take readings in", () => {
  it("gets the fault that came and went meanwhile, and the newest state, once it can", async () => {
    const gateway = new PlayedGateway();
    const unit = gateway.add(1);
    const { clock, desk } = listen({ g: gateway }, [settingsOf("g", [1])]);
    await clock.pass(MINUTE);
    desk.takesIn = false;
    setFault(unit, true);
    setKiloohms(unit, 5);
    await clock.pass(10_000);
    setFault(unit, false);
    setKiloohms(unit, 900);
    await clock.pass(5 * MINUTE);
    desk.takesIn = true;
    await clock.pass(MINUTE);
    expect(desk.of("g-1", "earth-fault-bit")).toEqual([false, true, false]);
    expect(desk.of("g-1", "insulation")).toEqual([2_000_000, 5000, 900_000]);
    const keys = desk.taken.map(({ key }) => key);
    expect(new Set(keys).size).toBe(keys.length);
  });

  it("is offered what is left once more when the listener stops", async () => {
    const gateway = new PlayedGateway();
    gateway.add(1);
    const { clock, desk } = listen({ g: gateway }, [settingsOf("g", [1])]);
    desk.takesIn = false;
    await clock.pass(MINUTE);
    expect(desk.taken).toEqual([]);
    desk.takesIn = true;
    await stop();
    expect(desk.of("g-1", "earth-fault-bit")).toEqual([false]);
    expect(clock.waiting).toBe(0);
  });
});

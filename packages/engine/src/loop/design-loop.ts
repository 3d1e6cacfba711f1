import type { AlarmLoop } from "../assess/site.ts";
import { listed } from "../path/judgement.ts";
import type { Celsius, Volts } from "../quantity/index.ts";
import type { LoopDesign, LoopFigures, LoopRequest } from "./loop-design.ts";
import { makeFailSafe } from "./make-fail-safe.ts";
import { operatingPoint } from "./operating-point.ts";
import { partsList } from "./parts-list.ts";
import { addDiode, relieveContact } from "./relieve-contact.ts";
import type { Draft, Step } from "./repair.ts";
import { batteryNeed, loopCurrents, sizeBattery } from "./size-battery.ts";
import { sizeCable } from "./size-cable.ts";
import { sizeFuse } from "./size-fuse.ts";

/** Order matters: the relay sets the fuse's limit, the end-of-line resistor adds to the battery's load. */
const STEPS: readonly Step[] = [sizeCable, addDiode, relieveContact, makeFailSafe, sizeFuse, sizeBattery];

/** Unfavourable values for what a request may leave open, as the judge of paths takes them. */
function atItsWorst(loop: AlarmLoop): AlarmLoop {
  const { cable, supply, supplyMinimum } = loop;
  return {
    ...loop,
    ...(cable === undefined
      ? {}
      : { cable: { ...cable, class: cable.class ?? 5, temperature: cable.temperature ?? (70 as Celsius) } }),
    ...(supplyMinimum === undefined && supply !== undefined
      ? { supplyMinimum: (0.875 * supply) as Volts }
      : {}),
  };
}

function missing({ supply, cable, load }: AlarmLoop): readonly string[] {
  return [
    ...(supply === undefined ? ["the supply voltage"] : []),
    ...(cable === undefined ? ["the cable run"] : []),
    ...(load === undefined ? ["the load"] : []),
    ...(load !== undefined && load.minimumVoltage === undefined ? ["the load's least voltage"] : []),
  ];
}

function figuresOf(draft: Draft): LoopFigures | null {
  const point = operatingPoint(draft.loop, draft.endOfLine);
  const batteryAh = batteryNeed(draft);
  const currents = loopCurrents(draft);
  if (point === null || batteryAh === null || currents === null) return null;
  return { loadVoltage: point.loadV, loopOhms: point.loopOhms, batteryAh, alarmA: currents.alarmA };
}

/**
 * Approve the parts of an annunciator loop, or repair them: next cable size, diode, interposing relay, end-of-line
 * resistor, fuse and battery, each change with its reason.
 *
 * What the request leaves open is taken at its worst (class 5 cable at 70 °C, battery ending at 87.5 % of nominal).
 * What no change of parts mends is left in `unsolved` with the next step. A person who knows the local code checks the
 * result; nothing here allows work on a live array.
 * Check: checks/loop-ngspice; every repaired loop is judged again in design-loop.test.ts
 */
export function designLoop(request: LoopRequest): LoopDesign {
  const open = missing(request.loop);
  const start: Draft = {
    request,
    loop: atItsWorst(request.loop),
    relay: null,
    endOfLine: null,
    changes: [],
    unsolved: open.length === 0 ? [] : [`Not stated: ${listed(open)}. Record it and design again.`],
  };
  const draft = open.length === 0 ? STEPS.reduce((before, step) => step(before), start) : start;
  return {
    approved: draft.changes.length === 0 && draft.unsolved.length === 0,
    loop: draft.loop,
    contact: request.contact,
    relay: draft.relay,
    endOfLine: draft.endOfLine,
    changes: draft.changes,
    unsolved: draft.unsolved,
    figures: figuresOf(draft),
    parts: partsList(draft),
  };
}

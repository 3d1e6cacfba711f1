import { figure } from "../path/judgement.ts";
import { floatVoltage } from "../path/contact.ts";
import { intensityOf } from "../path/light-reach.ts";
import type { LoopPart } from "./loop-design.ts";
import type { Draft } from "./repair.ts";
import { diodeAtLeast } from "./standard-sizes.ts";

const part = (quantity: number, item: string, rating: string): LoopPart => ({ quantity, item, rating });

function wiring({ loop }: Draft): readonly LoopPart[] {
  const { cable, fuse } = loop;
  const volts = figure(floatVoltage(loop) ?? 0);
  return [
    ...(fuse === undefined
      ? []
      : [part(1, "fuse and holder at the supply", `${figure(fuse, 3)} A, ${volts} V d.c.`)]),
    ...(cable === undefined
      ? []
      : [
          part(
            1,
            "two-core cable, copper",
            `${figure(cable.area, 2)} mm², class ${cable.class ?? 5}${cable.tinned === true ? ", tinned" : ""}, ${figure(cable.length)} m`,
          ),
        ]),
  ];
}

function load({ loop }: Draft): readonly LoopPart[] {
  if (loop.load === undefined) return [];
  const { kind, current, minimumVoltage, level, light = {} } = loop.load;
  const candela = intensityOf(light);
  const from = minimumVoltage === undefined ? "" : `, works from ${figure(minimumVoltage, 2)} V`;
  const sound = level === undefined ? "" : `, ${figure(level)} dB(A) at 1 m`;
  const shines = candela === null ? "" : `, ${figure(candela, 2)} cd towards the people`;
  return [part(1, kind, `${figure(loop.supply ?? 0)} V, ${figure(current, 3)} A${from}${sound}${shines}`)];
}

/** Bill of materials of a design, by rating. */
export function partsList(draft: Draft): readonly LoopPart[] {
  const { loop, relay, endOfLine } = draft;
  const volts = floatVoltage(loop) ?? 0;
  const diodes = (loop.load?.flybackDiode === true ? 1 : 0) + (relay === null ? 0 : 1);
  return [
    ...(loop.battery === undefined
      ? []
      : [part(1, "battery with charger", `${figure(loop.supply ?? 0)} V, ${figure(loop.battery, 1)} Ah`)]),
    ...wiring(draft),
    ...(relay === null
      ? []
      : [
          part(
            1,
            "interposing relay",
            `coil ${figure(relay.coilV)} V, contact ${figure(relay.contactA)} A at ${figure(relay.contactV)} V d.c.`,
          ),
        ]),
    ...(diodes === 0
      ? []
      : [part(diodes, "diode across a coil", `1 A, ${diodeAtLeast(4 * volts) ?? 1000} V`)]),
    ...(endOfLine === null
      ? []
      : [
          part(1, "end-of-line resistor", `${figure(endOfLine.ohms)} Ω, 5 %, ${endOfLine.watts} W`),
          part(
            1,
            "line supervision unit",
            `feeds the line reversed at rest through ${figure(endOfLine.seriesOhms)} Ω, 5 %; the load must be polarised`,
          ),
        ]),
    ...load(draft),
  ];
}

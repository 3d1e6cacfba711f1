import type { AlarmLoop, Inverter } from "../assess/site.ts";
import { cableCurrentLimit } from "./cable.ts";
import { figure, type Remark } from "./judgement.ts";

/** A battery on float stands above its nominal voltage: 13.8 V on 12 V (memory). */
const FLOAT_SHARE = 1.15;
/** Cold filament against running current (memory). */
export const LAMP_INRUSH = 10;
/** Share of a resistive d.c. rating left for an inductive load without suppression (memory). */
export const INDUCTIVE_SHARE = 0.1;

type Load = NonNullable<AlarmLoop["load"]>;
type Rating = NonNullable<NonNullable<Inverter["relay"]>["dcRating"]>;

/** Voltage of the loop with a battery on float; undefined where no supply is stated. */
export function floatVoltage({ supply }: AlarmLoop): number | undefined {
  return supply === undefined ? undefined : FLOAT_SHARE * supply;
}

/** Highest voltage the open contact stands against. */
function highestLoopVoltage(loop: AlarmLoop): number | undefined {
  return loop.battery === undefined ? loop.supply : floatVoltage(loop);
}

function voltageRemarks(id: string, loop: AlarmLoop, rating: Rating): readonly Remark[] {
  const volts = highestLoopVoltage(loop);
  if (volts === undefined || volts <= rating.voltage) return [];
  const text = `The loop stands at up to ${figure(volts)} V; the contact of ${id} is rated to ${figure(rating.voltage)} V d.c.; above that an arc may not go out. Use a lower voltage or an interposing relay.`;
  return [
    { code: "PATH_CONTACT_VOLTAGE", text, figures: { loopVoltage: volts, contactVoltage: rating.voltage } },
  ];
}

function inductiveRemarks(id: string, load: Load, rating: Rating): readonly Remark[] {
  if (load.kind !== "relay" || load.flybackDiode === true) return [];
  const limit = INDUCTIVE_SHARE * rating.current;
  if (load.current > limit) {
    const text = `The coil draws ${figure(load.current, 3)} A; without a diode the contact of ${id} may break about ${figure(limit, 3)} A. Fit a flyback diode across the coil.`;
    return [
      { code: "PATH_CONTACT_INDUCTIVE", text, figures: { loadCurrent: load.current, breakCurrent: limit } },
    ];
  }
  const text = `No flyback diode is on record across the coil that ${id} switches, and without one each break wears the contact. Fit one and record it.`;
  return [{ code: "PATH_FLYBACK_UNKNOWN", text }];
}

function currentRemarks(id: string, load: Load, rating: Rating): readonly Remark[] {
  if (load.current > rating.current) {
    const text = `The load draws ${figure(load.current, 3)} A; the contact of ${id} may carry and break ${figure(rating.current, 3)} A, so it can burn or weld and then hides or holds the alarm. Fit an interposing relay or a smaller load.`;
    const figures = { loadCurrent: load.current, contactCurrent: rating.current };
    return [{ code: "PATH_CONTACT_CURRENT", text, figures }];
  }
  const inrush = load.current * LAMP_INRUSH;
  if (load.kind === "lamp" && inrush > rating.current) {
    const text = `The cold lamp draws about ${figure(inrush)} A; the contact of ${id} may make ${figure(rating.current)} A. Use an LED beacon or an interposing relay.`;
    return [
      {
        code: "PATH_CONTACT_INRUSH",
        text,
        figures: { inrushCurrent: inrush, contactCurrent: rating.current },
      },
    ];
  }
  return inductiveRemarks(id, load, rating);
}

/** Whether the inverter's contact may make, carry and break this loop at its voltage. */
export function judgeContact({ id, relay }: Inverter, loop: AlarmLoop): readonly Remark[] {
  if (relay === undefined) {
    const text = `No alarm contact of ${id} is on record, so whether it can raise the alarm cannot be judged. Read its rating and what operates it from the inverter's data.`;
    return [{ code: "PATH_RELAY_UNKNOWN", text }];
  }
  const rating = relay.dcRating;
  if (rating === undefined) {
    const text = `The direct-current rating of the contact of ${id} is not stated; an a.c. rating does not stand for it. Read it from the inverter's data and record it.`;
    return [{ code: "PATH_CONTACT_RATING_UNKNOWN", text }];
  }
  const current = loop.load === undefined ? [] : currentRemarks(id, loop.load, rating);
  return [...voltageRemarks(id, loop, rating), ...current];
}

/** Fuse at least the load's current, at most what the contact and the cable bear. */
export function judgeFuse(loop: AlarmLoop, rating: Rating | undefined): readonly Remark[] {
  const { fuse, load, cable } = loop;
  if (fuse === undefined) {
    return [
      {
        code: "PATH_FUSE_UNKNOWN",
        text: "No fuse is on record for the loop, and a battery drives a shorted cable until something burns. Fit one at the supply, or record the one there is.",
      },
    ];
  }
  const remarks: Remark[] = [];
  const size = `The fuse is ${figure(fuse, 3)} A`;
  if (load !== undefined && fuse < load.current) {
    const text = `${size} and the load draws ${figure(load.current, 3)} A, so it may open the first time the alarm operates. Fit a fuse of at least the load's current.`;
    remarks.push({ code: "PATH_FUSE_BELOW_LOAD", text });
  }
  if (rating !== undefined && fuse > rating.current) {
    const text = `${size} and the contact bears ${figure(rating.current, 3)} A, so a shorted cable can weld it before the fuse opens. Fit a smaller fuse or an interposing relay.`;
    remarks.push({ code: "PATH_FUSE_ABOVE_CONTACT", text });
  }
  if (cable !== undefined && fuse > cableCurrentLimit(cable.area)) {
    const text = `${size} and a cable of ${figure(cable.area, 2)} mm² bears ${figure(cableCurrentLimit(cable.area))} A, so a short circuit can overheat it before the fuse opens. Fit a smaller fuse or a larger cable.`;
    remarks.push({ code: "PATH_FUSE_ABOVE_CABLE", text });
  }
  return remarks;
}

import type { AlarmLoop, AnnunciatorPath } from "../assess/site.ts";
import { judgeBattery, standbyHours } from "./battery.ts";
import { judgeCable, loadVoltage } from "./cable.ts";
import { judgeContact, judgeFuse } from "./contact.ts";
import { invertersServed, type PathContext } from "./context.ts";
import { figure, type Remark } from "./judgement.ts";
import { judgeListener } from "./listener.ts";
import { judgeSense } from "./sense.ts";
import { soundAtListener } from "./sound.ts";

/** The three figures of a loop, those that can be worked out, in one finding. */
function figuresRemark(path: AnnunciatorPath, loop: AlarmLoop): readonly Remark[] {
  const voltage = loadVoltage(loop);
  const sound = loop.load?.kind === "sounder" ? soundAtListener(path) : null;
  const hours = standbyHours(loop);
  const words = [
    ...(voltage === null
      ? []
      : [
          `${figure(voltage.volts, 2)} V at the load with the battery at its end and the cable hot` +
            ` (${figure(voltage.worstVolts, 2)} V with 0.1 Ω in the contact)`,
        ]),
    ...(sound === null ? [] : [`${figure(sound)} dB(A) at the listener`]),
    ...(hours === null ? [] : [`${figure(hours)} h of standby`]),
  ];
  if (words.length === 0) return [];
  const figures = {
    ...(voltage === null ? {} : { loadVoltage: voltage.volts }),
    ...(sound === null ? {} : { soundAtListener: sound }),
    ...(hours === null ? {} : { standbyHours: hours }),
  };
  return [
    {
      code: "PATH_LOOP_FIGURES",
      text: `Worked out for this loop: ${words.join("; ")}. Measure the voltage at the load with the alarm sounding and compare.`,
      figures,
    },
  ];
}

function judgeLoop(path: AnnunciatorPath, loop: AlarmLoop, context: PathContext): readonly Remark[] {
  const inverters = invertersServed(path, context);
  const ratings = inverters.flatMap(({ relay }) => relay?.dcRating ?? []);
  const weakest = ratings.sort((a, b) => a.current - b.current)[0];
  return [
    ...figuresRemark(path, loop),
    ...judgeCable(loop),
    ...inverters.flatMap((inverter) => judgeContact(inverter, loop)),
    ...judgeFuse(loop, weakest),
    ...judgeBattery(loop),
    ...judgeSense(loop),
  ];
}

/** A sounder, beacon or lamp switched by the inverter's contact: does it operate, is it perceived, what hides it. */
export function judgeAnnunciator(path: AnnunciatorPath, context: PathContext): readonly Remark[] {
  const loop = path.loop;
  if (loop === undefined) {
    const text =
      "Nothing is recorded about the loop, so whether it sounds at all cannot be judged. Record supply, cable, load, fuse and battery.";
    return [{ code: "PATH_LOOP_UNKNOWN", text }, ...judgeListener(path)];
  }
  return [...judgeLoop(path, loop, context), ...judgeListener(path)];
}

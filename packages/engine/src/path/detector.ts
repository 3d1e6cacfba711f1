import type { Inverter, Path } from "../assess/site.ts";
import { arraysServed, invertersServed, type PathContext } from "./context.ts";
import { listed, type Remark } from "./judgement.ts";

type Detection = "known" | "unknown" | "none";

function detectionOf(inverter: Inverter): Detection {
  if (inverter.earthFaultInterrupter !== undefined) return "known";
  if ((inverter.insulationCheck?.at.length ?? 0) > 0 || inverter.residualMonitor === true) return "known";
  const ruledOut = inverter.insulationCheck !== undefined && inverter.residualMonitor !== undefined;
  return ruledOut ? "none" : "unknown";
}

/** Whether something at the far end of the path can detect an earth fault at all. */
export function judgeDetector(path: Path, context: PathContext): readonly Remark[] {
  if (arraysServed(path, context).length === 0) {
    return [
      {
        code: "PATH_SERVES_NO_ARRAY",
        text: `Path ${path.id} serves no array of this site, so no earth fault can start it. Name the arrays whose detector does.`,
      },
    ];
  }
  const inverters = invertersServed(path, context);
  const named = (detection: Detection): string[] =>
    inverters.filter((inverter) => detectionOf(inverter) === detection).map((inverter) => inverter.id);
  const remarks: Remark[] = [];
  const none = named("none");
  if (none.length > 0) {
    const text = `${listed(none)} neither checks insulation nor monitors residual current, so nothing would start this signal. Fit an insulation monitor.`;
    remarks.push({ code: "PATH_DETECTOR_NONE", text });
  }
  const unknown = named("unknown");
  if (unknown.length > 0 || inverters.length === 0) {
    const where = unknown.length > 0 ? listed(unknown) : "the inverter of the arrays served";
    const text = `It is not stated what detects an earth fault at ${where}, so nobody can say that one starts this signal. Record its insulation check, its residual monitor, or the interrupter in its earth connection.`;
    remarks.push({ code: "PATH_DETECTOR_UNKNOWN", text });
  }
  return remarks;
}

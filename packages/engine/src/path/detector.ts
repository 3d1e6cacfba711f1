import type { Inverter, Path } from "../assess/site.ts";
import { arraysServed, invertersServed, type PathContext } from "./context.ts";
import { listed, type Remark } from "./judgement.ts";

type Detection = "known" | "unknown" | "none";

function detectionOf(inverter: Inverter): Detection {
  if ((inverter.insulationCheck?.at.length ?? 0) > 0 || inverter.residualMonitor === true) return "known";
  const ruledOut = inverter.insulationCheck !== undefined && inverter.residualMonitor !== undefined;
  return ruledOut ? "none" : "unknown";
}

/** Whether something at the far end of the path can detect an earth fault at all. */
export function judgeDetector(path: Path, context: PathContext): readonly Remark[] {
  if (arraysServed(path, context).length === 0) {
    return [{ code: "PATH_SERVES_NO_ARRAY", text: `Path ${path.id} serves no array of this site.` }];
  }
  const inverters = invertersServed(path, context);
  const named = (detection: Detection): string[] =>
    inverters.filter((inverter) => detectionOf(inverter) === detection).map((inverter) => inverter.id);
  const remarks: Remark[] = [];
  const none = named("none");
  if (none.length > 0) {
    const text = `${listed(none)} neither checks insulation nor monitors residual current. Fit an insulation monitor.`;
    remarks.push({ code: "PATH_DETECTOR_NONE", text });
  }
  const unknown = named("unknown");
  if (unknown.length > 0 || inverters.length === 0) {
    const where = unknown.length > 0 ? listed(unknown) : "the inverter of the arrays served";
    const text = `It is not stated what detects an earth fault at ${where}. Record its insulation check and residual monitor.`;
    remarks.push({ code: "PATH_DETECTOR_UNKNOWN", text });
  }
  return remarks;
}

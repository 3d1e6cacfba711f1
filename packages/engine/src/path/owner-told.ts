import type { Path } from "../assess/site.ts";
import { invertersServed, type PathContext } from "./context.ts";
import { listed, type Remark } from "./judgement.ts";

/**
 * Relay and light of an inverter operate for any inverter fault unless the file says the contact is for earth faults
 * only; the owner must have been told so in writing.
 */
export function judgeOwnerTold(path: Path, context: PathContext): readonly Remark[] {
  const shared = invertersServed(path, context).filter(
    (inverter) => path.signal === "indicator" || inverter.relay?.operatesOn !== "earth-fault",
  );
  if (shared.length === 0) return [];
  const what = path.signal === "indicator" ? "light" : "contact";
  const names = listed(shared.map((inverter) => inverter.id));
  const text = `The ${what} of ${names} operates for any inverter fault, not only an earth fault. Treat each operation as an earth fault until the inverter's own record says otherwise.`;
  const remarks: Remark[] = [{ code: "PATH_ANY_FAULT", text }];
  if (context.site.ownerInformed === undefined) {
    const untold =
      "No record says that the owner was told what sets this alarm off, and an owner who does not know takes it for a nuisance. Tell the owner in writing what sets it off and what to do, and record it.";
    remarks.push({ code: "PATH_OWNER_NOT_TOLD", text: untold });
  }
  return remarks;
}

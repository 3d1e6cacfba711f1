import type { Alarm } from "@earthbell/model";
import { CaseReport } from "../papers/case-report.tsx";
import { CaseClose, CaseRemark } from "./case-close.tsx";
import { CaseMeasure, CaseOwner } from "./case-measure.tsx";
import { CaseQuiet } from "./case-quiet.tsx";
import { CaseTimeline, CaseTold } from "./case-history.tsx";
import { CaseSign } from "./case-sign.tsx";
import type { CaseStepProps } from "./case-step.ts";
import type { ToldLine } from "./records.ts";

interface CaseWorkProps extends CaseStepProps {
  readonly alarms: readonly Alarm[];
  readonly told: readonly ToldLine[];
}

/** What is done for a case once its damage has been looked for, and what is on record of it. */
export default function CaseWork({ alarms, told, ...steps }: CaseWorkProps) {
  const { one, me } = steps;
  return (
    <>
      {one.closed === null && me.role !== "owner" ? (
        <div className="flow later">
          <CaseSign {...steps} />
          <CaseMeasure {...steps} />
          <CaseOwner {...steps} />
          <CaseClose {...steps} />
          <CaseQuiet {...steps} alarms={alarms} />
        </div>
      ) : null}
      <div className="flow later">
        {me.role === "owner" ? null : <CaseRemark {...steps} />}
        <CaseReport {...steps} />
        <CaseTold told={told} />
        <CaseTimeline one={one} />
      </div>
    </>
  );
}

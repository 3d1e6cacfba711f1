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
  const isWorked = one.closed === null && me.role !== "owner";
  return (
    <>
      {isWorked ? (
        <>
          <div className="later">
            <CaseSign {...steps} />
          </div>
          <div className="later">
            <CaseMeasure {...steps} />
          </div>
          <div className="later">
            <CaseOwner {...steps} />
          </div>
          <div className="later">
            <CaseClose {...steps} />
          </div>
          <div className="later">
            <CaseQuiet {...steps} alarms={alarms} />
          </div>
        </>
      ) : null}
      {me.role === "owner" ? null : (
        <div className="later">
          <CaseRemark {...steps} />
        </div>
      )}
      <div className="later">
        <CaseReport {...steps} />
      </div>
      <div className="later">
        <CaseTold told={told} />
      </div>
      <div className="later">
        <CaseTimeline one={one} />
      </div>
    </>
  );
}

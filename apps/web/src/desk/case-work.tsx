import type { ReactNode } from "react";
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
          <Later>
            <CaseSign {...steps} />
          </Later>
          <Later>
            <CaseMeasure {...steps} />
          </Later>
          <Later>
            <CaseOwner {...steps} />
          </Later>
          <Later>
            <CaseClose {...steps} />
          </Later>
          <Later>
            <CaseQuiet {...steps} alarms={alarms} />
          </Later>
        </>
      ) : null}
      {me.role === "owner" ? null : (
        <Later>
          <CaseRemark {...steps} />
        </Later>
      )}
      <Later>
        <CaseReport {...steps} />
      </Later>
      <Later>
        <CaseTold told={told} />
      </Later>
      <Later>
        <CaseTimeline one={one} />
      </Later>
    </>
  );
}

/** Laid out when it comes near the screen, each by itself. */
function Later({ children }: { readonly children: ReactNode }) {
  return <div className="later">{children}</div>;
}

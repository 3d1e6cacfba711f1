import type { Finding } from "@earthbell/engine";
import { instantWords } from "../desk/instant.ts";
import type { KeptVisit } from "../keep/kept.ts";
import { announce } from "../page/announce.tsx";
import { recordFinding } from "./change-visit.ts";
import { verdictWords } from "./finding-view.tsx";
import type { ChangeVisit } from "./use-visit.ts";

interface FindingOnRecordProps {
  readonly kept: KeptVisit;
  readonly finding: Finding;
  readonly change: ChangeVisit;
}

/** What the readings say, put on record by a person; the case tells it to everybody. */
export function FindingOnRecord({ kept, finding, change }: FindingOnRecordProps) {
  const text = verdictWords(finding);
  const recorded = kept.entries.findLast(({ kind }) => kind === "found");
  const same = recorded?.kind === "found" && recorded.text === text;
  const put = (): void => {
    change((now) => recordFinding(now, text, new Date().toISOString()));
    announce("The finding is on record.");
  };
  return (
    <div className="flow">
      {recorded?.kind === "found" ? (
        <p>
          On record since {instantWords(recorded.at)}: {recorded.text}
        </p>
      ) : null}
      {same ? null : (
        <button type="button" onClick={put}>
          Put this finding on record{kept.place?.case === null ? "" : " and on its case"}
        </button>
      )}
    </div>
  );
}

import type { Case } from "@earthbell/model";
import { FaultText } from "../desk/fault-text.tsx";
import { instantWords } from "../desk/instant.ts";
import { useAnswer } from "../desk/use-answer.ts";
import { Choice } from "../page/choice.tsx";
import { Field } from "../page/field.tsx";
import { TextFile, type TextOfFile } from "./text-file.tsx";

/** What a report is made from: `case ID` or `visit ID` of the desk, or files. */
export interface ReportChosen {
  readonly of: string;
  readonly name: string;
  readonly visit: TextOfFile | null;
  readonly after: TextOfFile | null;
}

export const NO_REPORT: ReportChosen = { of: "", name: "", visit: null, after: null };
const FILES = "files";

interface VisitLine {
  readonly id: string;
  readonly title: string;
  readonly case: string | null;
  readonly begunAt: number;
}

/** What goes to the desk for a report; null while something is missing. */
export function reportAsked({ of, name, visit, after }: ReportChosen): object | null {
  if (of === FILES) {
    if (visit === null || name.trim() === "") return null;
    return { name, text: visit.text, ...(after === null ? {} : { after: after.text }) };
  }
  const space = of.indexOf(" ");
  return space < 0 ? null : { [of.slice(0, space)]: of.slice(space + 1) };
}

interface ReportFieldsProps {
  readonly site: string;
  readonly chosen: ReportChosen;
  readonly choose: (change: Partial<ReportChosen>) => void;
}

/** A case of the site with all its visits, one visit for no case, or the file of a visit. */
export function ReportFields({ site, chosen, choose }: ReportFieldsProps) {
  const of = encodeURIComponent(site);
  const cases = useAnswer<readonly Case[]>(`/api/cases?state=all&limit=200&site=${of}`, ["case"]);
  const visits = useAnswer<readonly VisitLine[]>(`/api/visits?limit=200&site=${of}`, ["visit"]);
  const alone = (visits.value ?? []).filter((visit) => visit.case === null);
  const choices = [
    ["", "Choose"],
    ...(cases.value ?? []).map((one) => [`case ${one.id}`, caseWords(one)] as const),
    ...alone.map(
      ({ id, title, begunAt }) => [`visit ${id}`, `Visit ${title}, ${instantWords(begunAt)}`] as const,
    ),
    [FILES, "Files of a visit"],
  ] as const;
  return (
    <>
      <FaultText fault={cases.fault ?? visits.fault} />
      <Choice
        words="Of"
        value={chosen.of}
        choices={choices}
        chosen={(one) => {
          choose({ of: one });
        }}
      />
      {chosen.of === FILES ? <FileFields chosen={chosen} choose={choose} /> : null}
    </>
  );
}

function caseWords({ id, array, openedAt, closed }: Case): string {
  return `Case ${id}, array ${array}, ${instantWords(openedAt)}${closed === null ? ", open" : ""}`;
}

function FileFields({ chosen, choose }: Pick<ReportFieldsProps, "chosen" | "choose">) {
  return (
    <>
      <Field
        words="Name of the visit"
        hint="such as its day, 2026-08-14"
        value={chosen.name}
        typed={(name) => {
          choose({ name });
        }}
      />
      <TextFile
        words="Visit"
        hint="its file, as a visit is saved"
        file={chosen.visit}
        chosen={(visit) => {
          choose({ visit });
        }}
      />
      <TextFile
        words="Visit after the repair"
        hint="its file, where there was one"
        file={chosen.after}
        chosen={(after) => {
          choose({ after });
        }}
      />
    </>
  );
}

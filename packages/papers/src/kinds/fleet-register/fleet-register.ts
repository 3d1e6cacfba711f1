import { type RulePack, rulesUsed, type Site } from "@earthbell/engine";
import { cautionBoxOf } from "../../content/caution-box.ts";
import { joinedRules } from "../../content/joined-rules.ts";
import { overriddenValues } from "../../content/overridden-values.ts";
import type { Block, Paper } from "../../content/paper.ts";
import type { Issue } from "../../identity/issue.ts";
import { dayWords } from "../../language/language.ts";
import type { SheetTable } from "../../sheets/sheet-table.ts";
import { type RegisterRow, registerRows } from "./register-rows.ts";

const VERDICTS: Readonly<Record<string, string>> = {
  meets: "● meets",
  "falls-short": "▲ falls short",
  unproven: "◆ unproved",
  "cannot-tell": "◆ cannot tell",
};

/** The register of a fleet as a paper: what is overdue stands first, then every array. */
export function fleetRegister(sites: readonly Site[], issue: Issue, packs: readonly RulePack[] = []): Paper {
  const rows = registerRows(sites, issue.date, packs);
  const overdue = rows.filter((row) => row.overdue);
  const arrays = new Set(rows.map(({ site, array }) => JSON.stringify([site, array]))).size;
  return {
    kind: "fleet-register",
    language: issue.language,
    title: "Register of earth-fault alarms",
    subject: `${count(sites.length, "site")}, ${count(arrays, "array")}`,
    look: "wide",
    issue,
    blocks: [
      {
        kind: "paragraph",
        text: `Judged for ${dayWords(issue.date, issue.language)}. A proof holds twelve months (choice of this program; no standard seen sets an interval). Duty and verdict: as earthbell assess gives them, with their sources there. Dates of proofs: from the site files.`,
      },
      ...overriddenValues(joinedRules(sites.flatMap((site) => rulesUsed(site, packs, "verdicts")))),
      { kind: "heading", level: 1, text: `Overdue: ${overdue.length}` },
      ...(overdue.length === 0
        ? []
        : [
            cautionBoxOf(
              ["licensed-and-local", "light-is-supply", "dc-lives-on"],
              "Before anybody proves a path",
            ),
          ]),
      overdue.length === 0
        ? { kind: "paragraph", text: "Every path was proved within its time." }
        : rowsTable(overdue),
      { kind: "heading", level: 1, text: "Every array" },
      rowsTable(rows),
    ],
  };
}

function count(number: number, what: string): string {
  return `${number} ${what}${number === 1 ? "" : "s"}`;
}

function rowsTable(rows: readonly RegisterRow[]): Block {
  return {
    kind: "table",
    caption: "",
    columns: [
      { head: "Site", share: 0.2 },
      { head: "Array", share: 0.08 },
      { head: "Alarm", share: 0.11 },
      { head: "By rule pack", share: 0.14 },
      { head: "Path", share: 0.13 },
      { head: "Verdict", share: 0.11 },
      { head: "Last proof", share: 0.09 },
      { head: "Next due", share: 0.14 },
    ],
    rows: rows.map((row) => [
      row.siteName === row.site ? row.site : `${row.siteName} (${row.site})`,
      row.array,
      row.duty.replace("-", " "),
      ruleWords(row),
      row.path === "" ? "none" : `${row.path} ${row.signal}`,
      VERDICTS[row.verdict] ?? row.verdict,
      row.lastProof === "" ? "never" : row.lastProof,
      dueWords(row),
    ]),
  };
}

function ruleWords({ rulePack, overridden, setAside }: RegisterRow): string {
  const marks = [
    ...(overridden === "" ? [] : ["◆ overridden, see above"]),
    ...(setAside === "" ? [] : ["◇ override set aside, see above"]),
  ];
  return marks.length === 0 ? rulePack || "—" : `${rulePack} ${marks.join("; ")}`.trim();
}

/** What was never proved is due at once, on whatever day the register is made. */
function dueWords({ overdue, lastProof, nextDue }: RegisterRow): string {
  if (!overdue) return nextDue;
  return lastProof === "" ? "▲ at once" : `▲ ${nextDue}, overdue`;
}

/** The same for spreadsheets, one column a fact. */
export function registerTable(
  sites: readonly Site[],
  onDate: string,
  packs: readonly RulePack[] = [],
): SheetTable {
  return {
    name: "Register",
    columns: [
      { head: "site", width: 18, kind: "text" },
      { head: "site name", width: 28, kind: "text" },
      { head: "array", width: 10, kind: "text" },
      { head: "alarm", width: 14, kind: "text" },
      { head: "rule pack", width: 20, kind: "text" },
      { head: "path", width: 10, kind: "text" },
      { head: "signal", width: 14, kind: "text" },
      { head: "verdict", width: 14, kind: "text" },
      { head: "last proof", width: 12, kind: "day" },
      { head: "next due", width: 12, kind: "day" },
      { head: "overdue", width: 10, kind: "text" },
      { head: "owner told", width: 12, kind: "day" },
      { head: "overridden rule values", width: 28, kind: "text" },
      { head: "overrides set aside", width: 28, kind: "text" },
    ],
    rows: registerRows(sites, onDate, packs).map((row) => [
      row.site,
      row.siteName,
      row.array,
      row.duty,
      row.rulePack,
      row.path,
      row.signal,
      row.verdict,
      row.lastProof,
      row.nextDue,
      row.overdue ? "yes" : "no",
      row.ownerTold,
      row.overridden,
      row.setAside,
    ]),
  };
}

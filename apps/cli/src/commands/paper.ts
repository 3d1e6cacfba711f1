import { basename, extname } from "node:path";
import { LANGUAGES, type Language } from "@earthbell/papers";
import type { InputFault } from "@earthbell/model";
import { nearest } from "../command-line/nearest.ts";
import type { UsageFault } from "../command-line/usage-fault.ts";
import { usageText } from "../command-line/usage-text.ts";
import type { Call, Command } from "../command.ts";
import { type ExitStatus, exitStatus } from "../exit-status.ts";
import { readWhole, sourceName } from "../input/source.ts";
import { openIssueFolder } from "../paper/issue-folder.ts";
import { makePaper, type Making } from "../paper/make-paper.ts";
import { paperLines } from "../paper/paper-text.ts";
import type { Format, Recipe, Source } from "../paper/recipe.ts";
import { recipes } from "../paper/recipes.ts";
import { sha256 } from "../paper/sha256.ts";
import { signerOf, type Sign } from "../paper/signing-key.ts";
import { NoTypesetter, openTypesetter } from "../paper/typesetter.ts";
import { version } from "../version.ts";
import { faultsText } from "../views/faults-text.ts";
import { dayAsked } from "./day-asked.ts";
import { mostBytes } from "./document-work.ts";
import { fileStatuses } from "./statuses.ts";

const FORMATS: readonly Format[] = ["pdf", "html", "csv", "xlsx"];

export const paper: Command = {
  name: "paper",
  summary: "make the papers that are given to people: notices, records, reports, registers, sheets",
  operands: {
    shape: "KIND FILE…",
    least: 2,
    most: Infinity,
    what: "a kind of paper and the files it is made from",
  },
  options: [
    { name: "out", value: "FOLDER", help: "write the papers and the records of their issues here" },
    {
      name: "format",
      value: "FORMAT",
      choices: FORMATS,
      repeatable: true,
      help: "pdf (default), html; for a register also csv, xlsx",
    },
    {
      name: "language",
      value: "LANGUAGE",
      choices: LANGUAGES,
      help: "en (default), or es for the owner's notice",
    },
    {
      name: "on",
      value: "DATE",
      help: "date of the paper (today, or that of the issue before, when left out)",
    },
    { name: "by", value: "NAME", help: "who makes it" },
    { name: "after", value: "VISIT", help: "for a fault report: the visit after the repair" },
    { name: "sign", value: "KEY", help: "sign each file with this Ed25519 private key (PEM)" },
  ],
  description: [
    `Kinds: ${recipes.map(({ kind, says }) => `${kind} (${says})`).join("; ")}.`,
    "Each paper has a number and a revision. Made again from the same files it comes out the same to the byte; made from changed files it is the next revision and says what changed. The records that this needs are kept beside the papers.",
    "A paper advises licensed people. Nothing in it replaces the local code.",
  ],
  example: {
    line: "earthbell paper owner-notice demo/sites/creamery.yaml --out papers",
    shows: "The notice for the owner of an invented creamery, on one page.",
  },
  statuses: fileStatuses("every paper was made"),
  run: runPaper,
};

async function runPaper(call: Call): Promise<ExitStatus> {
  const { arguments: given, world, page, complain } = call;
  const [kind = "", ...operands] = given.operands;
  const recipe = recipes.find((one) => one.kind === kind);
  const faults = recipe === undefined ? [kindUnknown(kind)] : usageFaults(recipe, call);
  const today = await dayAsked(call, paper.name);
  if (faults.length > 0) await complain(usageText(faults, "earthbell help paper", page));
  if (faults.length > 0 || recipe === undefined || today === null) return exitStatus.wrongInput;
  const making = await makingOf(call, recipe, today);
  if (making === null) return exitStatus.wrongInput;
  const after = given.value("after");
  const later = after === undefined ? null : await readSource(after, call);
  if (later !== null && "code" in later) return await refuse(call, [later]);
  const groups = recipe.together ? [operands] : operands.map((operand) => [operand]);
  let status: ExitStatus = exitStatus.made;
  for (const [index, group] of groups.entries()) {
    if (world.out.closed) break;
    const made = await makeOne(group, { call, making, later });
    if (made !== exitStatus.made) status = made;
    await showProgress(call, index + 1, groups.length);
  }
  return status;
}

interface One {
  readonly call: Call;
  readonly making: Making;
  readonly later: Source | null;
}

async function makeOne(operands: readonly string[], { call, making, later }: One): Promise<ExitStatus> {
  const sources: Source[] = [];
  for (const operand of operands) {
    const source = await readSource(operand, call);
    if ("code" in source) return await refuse(call, [source]);
    sources.push(source);
  }
  const read = making.recipe.prepare(sources, { after: later, digest: sha256 });
  if (!read.ok) return await refuse(call, read.faults);
  await call.complain(faultsText(read.warnings, call.page));
  const made = await makePaper(read.record, making);
  if ("code" in made) return await refuse(call, [made]);
  await call.print(paperLines(made, call.page));
  return exitStatus.made;
}

async function readSource(operand: string, { world }: Call): Promise<Source | InputFault> {
  const bytes = await readWhole(operand, { world, most: mostBytes });
  if ("code" in bytes) return bytes;
  const stem = operand === "-" ? "standard-input" : basename(operand, extname(operand));
  return { bytes, file: sourceName(operand), stem };
}

async function refuse({ complain, page }: Call, faults: readonly InputFault[]): Promise<ExitStatus> {
  await complain(faultsText(faults, page));
  return exitStatus.wrongInput;
}

async function makingOf(call: Call, recipe: Recipe, today: string): Promise<Making | null> {
  const { arguments: given } = call;
  const formats = given.has("format") ? (given.values("format") as readonly Format[]) : (["pdf"] as const);
  const sign = await signerAsked(call);
  if (sign === "refused") return null;
  const typesetter = formats.includes("pdf") ? await typesetterHere(call) : null;
  if (typesetter === "missing") return null;
  return {
    recipe,
    formats: [...new Set(formats)],
    language: (given.value("language") ?? "en") as Language,
    folder: await openIssueFolder(given.value("out")!, sha256),
    digest: sha256,
    today,
    date: given.value("on"),
    by: given.value("by"),
    version,
    sign,
    typesetter,
  };
}

async function signerAsked(call: Call): Promise<Sign | null | "refused"> {
  const file = call.arguments.value("sign");
  if (file === undefined) return null;
  const source = await readSource(file, call);
  const sign = "code" in source ? source : signerOf(Buffer.from(source.bytes).toString());
  if (typeof sign === "function") return sign;
  await refuse(call, [sign ?? keyUnreadable(file)]);
  return "refused";
}

/** The fault of a file that should hold a key. */
export function keyUnreadable(file: string): InputFault {
  return {
    code: "PAPER_KEY_UNREADABLE",
    file,
    line: null,
    column: null,
    field: "",
    value: null,
    allowed: "an Ed25519 key in PEM",
    message: "It holds no Ed25519 key in PEM.",
  };
}

async function typesetterHere({ complain, page }: Call): Promise<Making["typesetter"] | "missing"> {
  try {
    return await openTypesetter();
  } catch (error) {
    if (!(error instanceof NoTypesetter)) throw error;
    const fault: UsageFault = {
      code: "PAPER_COMPILER_MISSING",
      message: `PDF cannot be made here: ${error.message}.`,
      suggestions: ["--format html"],
      lead: "near",
    };
    await complain(usageText([fault], "earthbell explain PAPER_COMPILER_MISSING", page));
    return "missing";
  }
}

async function showProgress({ world }: Call, done: number, all: number): Promise<void> {
  if (!world.terminal.isTerminal || all < 10) return;
  await world.err.write(`\r${done} of ${all}${done === all ? "\n" : ""}`);
}

function kindUnknown(kind: string): UsageFault {
  const kinds = recipes.map((one) => one.kind);
  const close = nearest(kind, kinds);
  return {
    code: "COMMAND_VALUE_UNKNOWN",
    message: `There is no paper of the kind ${JSON.stringify(kind)}.`,
    suggestions: close.length > 0 ? close : kinds,
    lead: close.length > 0 ? "near" : "all",
  };
}

function usageFaults(
  { kind, formats, languages }: Recipe,
  { arguments: given }: Call,
): readonly UsageFault[] {
  const language = given.value("language") ?? "en";
  const wrong = given.values("format").find((format) => !(formats as readonly string[]).includes(format));
  return [
    ...(given.has("out")
      ? []
      : [
          {
            code: "COMMAND_VALUE_MISSING",
            message: "Name the folder for the papers.",
            suggestions: ["--out papers"],
            lead: "example",
          } as const,
        ]),
    ...(wrong === undefined ? [] : [notOffered(kind, "format", wrong, formats)]),
    ...((languages as readonly string[]).includes(language)
      ? []
      : [notOffered(kind, "language", language, languages)]),
  ];
}

function notOffered(kind: string, option: string, value: string, offered: readonly string[]): UsageFault {
  return {
    code: "COMMAND_VALUE_UNKNOWN",
    message: `A ${kind} is not made with --${option} ${value}.`,
    suggestions: offered.map((one) => `--${option} ${one}`),
    lead: "all",
  };
}

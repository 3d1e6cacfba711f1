import {
  type Extra,
  type JobResult,
  type Language,
  LANGUAGES,
  PAPER_FORMATS,
  type PaperFormat,
  type PaperJob,
  type Recipe,
  recipes,
  type Source,
} from "@earthbell/papers";
import type { InputFault } from "@earthbell/model";
import { nearest } from "../command-line/nearest.ts";
import type { UsageFault } from "../command-line/usage-fault.ts";
import { usageText } from "../command-line/usage-text.ts";
import type { Call, Command } from "../command.ts";
import { type ExitStatus, exitStatus } from "../exit-status.ts";
import { paperLines } from "../paper/paper-text.ts";
import { makeInOrder, type Ordered } from "../paper/make-in-order.ts";
import { type PaperThreads, paperThreads } from "../paper/paper-threads.ts";
import { signerOf } from "../paper/signing-key.ts";
import { readSheets, readSource, sourcesOf } from "../paper/sources.ts";
import { photosOfVisits } from "../paper/visit-photos.ts";
import { version } from "../version.ts";
import { faultsText } from "../views/faults-text.ts";
import { dayAsked } from "./day-asked.ts";
import { readRules, rulesOptions } from "./rules-in-force.ts";
import { fileStatuses } from "./statuses.ts";

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
      choices: PAPER_FORMATS,
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
    {
      name: "results",
      value: "FILE",
      help: "for a commissioning record: what was measured (earthbell schema commissioning)",
    },
    {
      name: "sheet",
      value: "FILE",
      repeatable: true,
      help: "for a commissioning record: a setting sheet whose steps are bound in, ticked or to be ticked",
    },
    ...rulesOptions,
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
  const { arguments: given, complain, page } = call;
  const [kind = "", ...operands] = given.operands;
  const recipe = recipes.find((one) => one.kind === kind);
  const faults = recipe === undefined ? [kindUnknown(kind)] : usageFaults(recipe, call);
  const today = await dayAsked(call, paper.name);
  if (faults.length > 0) await complain(usageText(faults, "earthbell help paper", page));
  if (faults.length > 0 || recipe === undefined || today === null) return exitStatus.wrongInput;
  const terms = await termsOf(call, today);
  if (terms === null) return exitStatus.wrongInput;
  const groups = recipe.about === "sites" ? [operands] : operands.map((operand) => [operand]);
  const threads = paperThreads(groups.length);
  try {
    return await makeAll(call, { recipe, terms, groups, threads });
  } finally {
    await threads.close();
  }
}

type Terms = Omit<PaperJob, "kind" | "sources">;

interface Work {
  readonly recipe: Recipe;
  readonly terms: Terms;
  readonly groups: readonly (readonly string[])[];
  readonly threads: PaperThreads;
}

/** Papers are read in turn, made several at once, and told of in the order of the command line. */
async function makeAll(call: Call, { recipe, terms, groups, threads }: Work): Promise<ExitStatus> {
  let status: ExitStatus = exitStatus.made;
  let told = 0;
  await makeInOrder(orders(), threads.size * 2, async (result) => {
    if (!result.ok) {
      status = await refuse(call, result.faults);
    } else if (result.what === "issue") {
      await call.complain(faultsText(result.warnings, call.page));
      await call.print(paperLines(result.made, call.page));
    }
    await showProgress(call, ++told, groups.length);
  });
  return status;

  function extraOf(sources: readonly Source[], operands: readonly string[]) {
    const { extra } = terms;
    if (recipe.about !== "visit") return { sources, extra };
    return withPhotos(sources, operands, { extra, after: call.arguments.value("after") });
  }

  async function* orders(): AsyncGenerator<Ordered> {
    for (const group of groups) {
      if (call.world.out.closed) return;
      const sources = await sourcesOf(call, group);
      const ready = "code" in sources ? { faults: [sources] } : extraOf(sources, group);
      const read =
        "faults" in ready ? { ok: false as const, ...ready } : recipe.prepare(ready.sources, ready.extra);
      if (!read.ok || "faults" in ready)
        yield { key: group.join("\n"), make: () => Promise.resolve(read as JobResult) };
      else {
        const job = { ...terms, kind: recipe.kind, ...ready };
        yield { key: read.record.of, make: () => threads.run(job) };
      }
    }
  }
}

/** Sources with the photographs that they and the visit after the repair name; what is wrong with any of them. */
function withPhotos(
  sources: readonly Source[],
  operands: readonly string[],
  { extra, after }: { readonly extra: Extra; readonly after: string | undefined },
) {
  const visits = sources.map((source, at) => ({ source, operand: operands[at]! }));
  if (extra.after !== undefined && after !== undefined) visits.push({ source: extra.after, operand: after });
  const { photoFiles, faults } = photosOfVisits(visits);
  return faults.length > 0 ? { faults } : { sources, extra: { ...extra, photoFiles } };
}

async function refuse({ complain, page }: Call, faults: readonly InputFault[]): Promise<ExitStatus> {
  await complain(faultsText(faults, page));
  return exitStatus.wrongInput;
}

/** What is the same for every paper of the command line; null where a file of it could not be read, which has been said. */
async function termsOf(call: Call, today: string): Promise<Terms | null> {
  const { arguments: given } = call;
  const formats = given.has("format")
    ? (given.values("format") as readonly PaperFormat[])
    : (["pdf"] as const);
  const extra: { after?: Source; results?: Source } = {};
  for (const name of ["after", "results"] as const) {
    const source = await optionSource(name, call);
    if (source === "refused") return null;
    if (source !== null) extra[name] = source;
  }
  const key = await optionSource("sign", call);
  if (key === "refused") return null;
  const packs = await readRules(call);
  const { sheets, faults } = await readSheets(given.values("sheet"), call);
  if (faults.length > 0) await refuse(call, faults);
  if (packs === null || faults.length > 0) return null;
  const [date, by] = [given.value("on"), given.value("by")];
  return {
    what: "issue",
    extra: { ...extra, packs, ...(sheets.length === 0 ? {} : { sheets }) },
    language: (given.value("language") ?? "en") as Language,
    formats: [...new Set(formats)],
    folder: given.value("out")!,
    today,
    ...(date === undefined ? {} : { date }),
    ...(by === undefined ? {} : { by }),
    version,
    signKey: key === null ? null : Buffer.from(key.bytes).toString(),
  };
}

/** The file that an option names; null where it is left out. */
async function optionSource(name: string, call: Call): Promise<Source | null | "refused"> {
  const file = call.arguments.value(name);
  if (file === undefined) return null;
  const source = await readSource(file, call);
  if ("code" in source) {
    await refuse(call, [source]);
    return "refused";
  }
  if (name !== "sign" || signerOf(Buffer.from(source.bytes).toString()) !== null) return source;
  await refuse(call, [keyUnreadable(file)]);
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
    message: `No ${kind} is made with --${option} ${value}.`,
    suggestions: offered.map((one) => `--${option} ${one}`),
    lead: "all",
  };
}

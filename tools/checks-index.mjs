// Writes checks/INDEX.md from every checks/*/SOURCE.md; with --check, only says whether it is fresh. Format: checks/README.md.
import { existsSync, readdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";

const INDEX = "checks/INDEX.md";
/** Keys a SOURCE.md must have, with the other names they go by. */
const REQUIRED = {
  source: ["source"],
  obtained: ["obtained", "how obtained", "versions"],
  independence: ["independence"],
  tolerance: ["tolerance"],
  "not covered": ["not covered"],
};
const TAGS = ["published", "secondary", "memory", "common practice", "computed", "design choice"];

const folders = readdirSync("checks", { withFileTypes: true })
  .filter((entry) => entry.isDirectory())
  .map((entry) => entry.name)
  .sort();
const read = folders.map(readFolder);
const faults = read.flatMap((folder) => folder.faults);
if (faults.length > 0) {
  for (const fault of faults) console.error(fault);
  process.exit(1);
}
const index = indexPage(read);
if (!process.argv.includes("--check")) {
  writeFileSync(INDEX, index);
  console.log(`${read.length} checks listed in ${INDEX}`);
} else if (!existsSync(INDEX) || readFileSync(INDEX, "utf8") !== index) {
  console.error(`${INDEX} is stale: run node tools/checks-index.mjs and commit it`);
  process.exit(1);
}

/** One folder's SOURCE.md as title and keys, or every fault of it. */
function readFolder(id) {
  const file = join("checks", id, "SOURCE.md");
  if (!existsSync(file))
    return { id, faults: [`${file}: missing; say there where the numbers come from (checks/README.md)`] };
  const text = readFileSync(file, "utf8");
  const title = /^# (.+)$/m.exec(text)?.[1]?.trim();
  const keys = readKeys(text);
  const independence = valuesOf(keys, REQUIRED.independence)[0] ?? "";
  const lacking = Object.entries(REQUIRED)
    .filter(([, names]) => valuesOf(keys, names).length === 0)
    .map(([key]) => key)
    // What was worked out by hand was obtained by hand.
    .filter((key) => key !== "obtained" || !independence.startsWith("hand derivation"));
  const source = valuesOf(keys, REQUIRED.source).join(" ");
  const tags = tagsIn([...valuesOf(keys, ["tag"]), ...keys.map(([, value]) => bracketed(value))].join(" "));
  if (tags.length === 0) lacking.push("tag");
  const cases = valuesOf(keys, ["cases"])[0] ?? countCases(id);
  const hasCheck = readdirSync(join("checks", id)).some((name) => name.endsWith(".check.ts"));
  const faults = [
    ...(title === undefined ? [`${file}: no first heading; its title says what is checked`] : []),
    ...(lacking.length === 0 ? [] : [`${file}: lacks ${lacking.join(", ")}`]),
    ...(hasCheck ? [] : [`checks/${id}: has no *.check.ts, so nothing runs`]),
  ];
  return {
    id,
    faults,
    title,
    source,
    tags,
    cases,
    covers: valuesOf(keys, ["covers"])[0] ?? "",
    independence,
    tolerance: valuesOf(keys, REQUIRED.tolerance)[0] ?? "",
    notCovered: valuesOf(keys, REQUIRED["not covered"])[0] ?? "",
  };
}

/** List lines "- key: value", bold or not, with continuation lines; as [key in lower case, value] in order. */
function readKeys(text) {
  const keys = [];
  for (const line of text.split("\n")) {
    const item = /^[-*] (?:\*\*)?([A-Za-z][^:*]{0,60}?)(?:\*\*)?:(?:\*\*)? *(.*)$/.exec(line);
    if (item !== null) keys.push([item[1].trim().toLowerCase(), item[2].trim()]);
    else if (/^\s+\S/.test(line) && keys.length > 0) keys.at(-1)[1] += ` ${line.trim()}`;
  }
  return keys;
}

/** Values of a key; "source, Australia" counts as source. */
function valuesOf(keys, names) {
  return keys
    .filter(([key]) => names.some((name) => key === name || key.startsWith(`${name},`)))
    .map(([, value]) => value);
}

function bracketed(value) {
  return [...value.matchAll(/\[([^\]]+)\]/g)].map((match) => match[1]).join(" ");
}

function tagsIn(text) {
  return TAGS.filter((tag) => text.toLowerCase().includes(tag));
}

/** Rows of a folder's *.json: objects and arrays that stand in an array; without such a file, the tests written out in its checks. */
function countCases(id) {
  const read = (name) => readFileSync(join("checks", id, name), "utf8");
  const names = readdirSync(join("checks", id));
  const data = names.filter((name) => name.endsWith(".json"));
  if (data.length > 0) return String(data.reduce((sum, name) => sum + rowsIn(JSON.parse(read(name))), 0));
  const checks = names.filter((name) => name.endsWith(".check.ts"));
  const tests = checks.reduce((sum, name) => sum + [...read(name).matchAll(/^\s*it[.(]/gm)].length, 0);
  return `${tests} tests`;
}

function rowsIn(value) {
  if (value === null || typeof value !== "object") return 0;
  if (!Array.isArray(value)) return Object.values(value).reduce((sum, item) => sum + rowsIn(item), 0);
  return value.reduce((sum, item) => {
    const inner = rowsIn(item);
    if (inner > 0) return sum + inner;
    return sum + (item !== null && typeof item === "object" ? 1 : 0);
  }, 0);
}

function indexPage(checks) {
  const cell = (text) => text.replaceAll("|", "\\|");
  const rows = checks.map(
    ({ id, title, source, tags, independence, tolerance, cases }) =>
      `| [${id}](${id}/SOURCE.md) | ${[title, source, tags.join(", "), independence, tolerance, cases].map(cell).join(" | ")} |`,
  );
  const gaps = checks.map(({ id, notCovered }) => `- **${id}**: ${notCovered}`);
  return [
    "# Outside checks",
    "",
    "Written by `node tools/checks-index.mjs` from each folder's SOURCE.md; do not edit by hand. What the columns mean: [README](README.md).",
    "",
    "| id | checks | source | tags | kind of independence | tolerance | cases |",
    "|---|---|---|---|---|---|---|",
    ...rows,
    "",
    "## What they do not cover",
    "",
    ...gaps,
    "",
  ].join("\n");
}

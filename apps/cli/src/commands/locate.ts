import { explain, locate as findPlace } from "@earthbell/engine";
import { readVisit } from "@earthbell/model";
import type { Command } from "../command.ts";
import { findingText } from "../views/finding-text.ts";
import { documentOptions, runDocuments } from "./documents.ts";
import { fileStatuses } from "./statuses.ts";

export const locate: Command = {
  name: "locate",
  summary: "say where the earth fault is, how sure that is, and what to measure next",
  operands: { shape: "VISIT…", least: 1, most: Infinity, what: "a visit file, or - for standard input" },
  options: [
    ...documentOptions,
    { name: "plan", help: "show every step that would tell something, not only the first" },
  ],
  description: [
    "A visit file holds the readings taken at an array: which string, from which terminal to which, with what, and the value. The finding gives each place its probability and the next measurement that tells most for its minutes. The cautions of that step stand before it.",
    "A reading may be wrong, two faults may look like one, and some readings cannot tell: the finding says so.",
    "It advises licensed people. Nothing in it replaces proving dead, or the local code.",
  ],
  example: {
    line: "earthbell locate demo/visits/creamery-2026-08-14.yaml",
    shows: "A hard fault at one junction of an invented creamery's array, and the opening that confirms it.",
  },
  statuses: fileStatuses("a finding was made, whatever it says"),
  run: (call) =>
    runDocuments(call, {
      read: (source, file, firstLine) =>
        readVisit(source, file, firstLine === undefined ? {} : { firstLine }),
      solve: findPlace,
      show: ({ record, result, title }) =>
        findingText(
          { finding: result, visit: record, explanation: explain(record, result) },
          { title, page: call.page, wholePlan: call.arguments.has("plan") },
        ),
    }),
};

import { drawNoticeReport, type NoticeReport, noticeReport } from "@earthbell/engine";
import { readSite } from "@earthbell/model";
import type { Call, Command } from "../command.ts";
import { type ExitStatus, exitStatus } from "../exit-status.ts";
import { noticeText } from "../views/notice-text.ts";
import { dayAsked, onOption } from "./day-asked.ts";
import { documentOptions, runDocuments } from "./documents.ts";
import { fileStatuses } from "./statuses.ts";
import { svgOption, writeDrawing } from "./write-drawing.ts";

export const notice: Command = {
  name: "notice",
  summary: "say how long a fault stays unnoticed, what delays the news, and what would shorten it",
  operands: { shape: "SITE…", least: 1, most: Infinity, what: "a site file, or - for standard input" },
  options: [...documentOptions, onOption, svgOption("the curve")],
  description: [
    "From the birth of an earth fault to the moment a person knows: by each path and by all together, worked out over a year of onsets from daylight, the detector, reading hours, links and absences.",
    "What the site file does not state is assumed at the unfavourable end. Every assumption is listed with its source: replace it from the site's own drills.",
  ],
  example: {
    line: "earthbell notice demo/sites/creamery.yaml --on 2026-11-25",
    shows: "Two sound paths, and a detector that looks only when the inverter starts.",
  },
  statuses: fileStatuses("times were worked out, whatever they are"),
  run: runNotice,
};

async function runNotice(call: Call): Promise<ExitStatus> {
  const onDate = await dayAsked(call, notice.name);
  if (onDate === null) return exitStatus.wrongInput;
  const drawing = call.arguments.has("svg");
  const reports: NoticeReport[] = [];
  const status = await runDocuments(call, {
    read: (source, file, firstLine) => readSite(source, file, firstLine === undefined ? {} : { firstLine }),
    solve: (site) => {
      const report = noticeReport(site, onDate);
      if (drawing) reports.push(report);
      return report;
    },
    show: ({ record, result }) => noticeText({ report: result, site: record }, call.page),
  });
  if (status !== exitStatus.made || !drawing) return status;
  return await writeDrawing(
    call,
    notice.name,
    reports.map((report) => ({ drawing: drawNoticeReport(report), askedBy: `the file of ${report.site}` })),
  );
}

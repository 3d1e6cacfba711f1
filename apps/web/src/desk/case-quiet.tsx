import { type Alarm, SIGNS } from "@earthbell/model";
import { useState } from "react";
import { Choice } from "../page/choice.tsx";
import { tellDesk } from "./ask-desk.ts";
import type { CaseStepProps } from "./case-step.ts";
import { FaultText } from "./fault-text.tsx";
import { instantWords } from "./instant.ts";
import { LongText } from "./long-text.tsx";
import { capital } from "./matters.ts";
import { quietEnds, type QuietKind } from "./quiet-ends.ts";
import { useSiteFile } from "./site-file.ts";
import { useStep } from "./use-step.ts";

interface Props extends CaseStepProps {
  readonly alarms: readonly Alarm[];
}

const KINDS: readonly (readonly [QuietKind, string])[] = [
  ["shelve", "put it aside until I come back to it"],
  ["suppress", "suppress it: what is done there on purpose sets it off"],
  ["begin-maintenance", "take it out of service while somebody works there"],
];

/** The ways in which an alarm can be quiet: where it is kept, how it is told, and what ends it. */
const QUIETS = [
  { field: "shelf", word: "Put aside", end: "unshelve", words: "Take it off the shelf" },
  { field: "suppression", word: "Suppressed", end: "unsuppress", words: "End the suppression" },
  { field: "maintenance", word: "Out of service", end: "end-maintenance", words: "Return it to service" },
] as const;

async function stepAlarm(id: string, step: Readonly<Record<string, unknown>>): Promise<string> {
  return (await tellDesk(`/api/alarms/${encodeURIComponent(id)}/steps`, step)).text;
}

/** Keeping the alarms of a case quiet for a while, with a reason and an end, and returning them. */
export function CaseQuiet({ alarms, ...steps }: Props) {
  const may = steps.me.role === "service" || steps.me.role === "technician";
  return (
    <section className="flow">
      <h2>Keep it quiet for a while</h2>
      <p>
        Nothing is told of a quiet alarm until its time ends; then it is told anew. The fault stays. It needs
        a reason, and everybody sees it here.
      </p>
      {may ? null : <p className="soft">A technician or service engineer does this.</p>}
      <ul className="plain index">
        {alarms.map((alarm) => (
          <li key={alarm.id} className="flow">
            <h3>{capital(SIGNS[alarm.sign].title)}</h3>
            <Quiet alarm={alarm} may={may} {...steps} />
          </li>
        ))}
      </ul>
    </section>
  );
}

interface QuietProps extends CaseStepProps {
  readonly alarm: Alarm;
  readonly may: boolean;
}

function Quiet({ alarm, may, one, done }: QuietProps) {
  const { busy, fault, said, take } = useStep();
  const on = QUIETS.filter(({ field }) => alarm[field] !== null);
  return (
    <>
      {on.map(({ field, word, end, words }) => {
        const quiet = alarm[field]!;
        return (
          <p key={field}>
            {word} by {quiet.by} until {instantWords(quiet.untilAt)}: {quiet.reason}{" "}
            {may ? (
              <button
                type="button"
                disabled={busy}
                onClick={() => {
                  take(async () => await stepAlarm(alarm.id, { step: end }), done);
                }}
              >
                {words}
              </button>
            ) : null}
          </p>
        );
      })}
      {may && on.length === 0 ? (
        <QuietForm
          site={one.site}
          busy={busy}
          chosen={(step) => {
            take(async () => await stepAlarm(alarm.id, step), done);
          }}
        />
      ) : null}
      <FaultText fault={fault} />
      {said === null ? null : <p>{said}</p>}
    </>
  );
}

interface QuietFormProps {
  readonly site: string;
  readonly busy: boolean;
  readonly chosen: (step: Readonly<Record<string, unknown>>) => void;
}

function QuietForm({ site: siteId, busy, chosen }: QuietFormProps) {
  const [now] = useState(Date.now);
  const [kind, setKind] = useState<QuietKind>("shelve");
  const [until, setUntil] = useState("");
  const [reason, setReason] = useState("");
  const [open, setOpen] = useState(false);
  const { site } = useSiteFile(open ? siteId : null);
  const ends = quietEnds(kind, site, now);
  const end = ends.find(([at]) => at === until) ?? ends[0];
  return (
    <details
      className="controls"
      onToggle={(event) => {
        setOpen(event.currentTarget.open);
      }}
    >
      <summary>Keep this alarm quiet</summary>
      <form
        className="flow"
        onSubmit={(event) => {
          event.preventDefault();
          chosen({ step: kind, reason, untilAt: Number(end?.[0]) });
        }}
      >
        <div className="fields">
          <Choice
            words="How"
            value={kind}
            choices={KINDS}
            chosen={(how) => {
              setKind(how as QuietKind);
            }}
          />
          <Choice words="How long" value={end?.[0] ?? ""} choices={ends} chosen={setUntil} />
        </div>
        <LongText words="Reason" value={reason} typed={setReason} />
        <button type="submit" disabled={busy || reason.trim() === "" || end === undefined}>
          Keep it quiet
        </button>
      </form>
    </details>
  );
}

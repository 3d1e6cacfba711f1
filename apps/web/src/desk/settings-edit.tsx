import { useState } from "react";
import { InputFaults } from "../page/input-faults.tsx";
import { Fold } from "../page/fold.tsx";
import { useUnfoldedBy } from "../page/open-folds.ts";
import { State } from "../page/state.tsx";
import { tellDesk } from "./ask-desk.ts";
import { FaultText } from "./fault-text.tsx";
import { SectionFields } from "./section-fields.tsx";
import { SectionText } from "./section-text.tsx";
import type { EditedSettings, SettingsWhole } from "./settings-records.ts";
import { useStep } from "./use-step.ts";

/** Sections that can be changed here, with what they are about; those with fields of their own come first. */
const SECTIONS = [
  ["email", "E-mail"],
  ["limits", "Limits, repeats and reminders"],
  ["drills", "Drills"],
  ["ladders", "Who is told next, and after how long"],
  ["sms", "Text messages"],
  ["webhook", "Webhooks"],
  ["brokers", "Brokers (MQTT)"],
  ["beacons", "Beacons"],
  ["keepers", "Told of what concerns the desk itself"],
] as const;

const PART = { name: "change", title: "Change", level: 2 } as const;

interface SettingsEditProps {
  readonly settings: SettingsWhole;
  readonly done: () => void;
}

/** Changes the settings section by section, in their file and where possible in what runs. */
export function SettingsEdit({ settings: { edited, file }, done }: SettingsEditProps) {
  if (edited === null)
    return (
      <Fold {...PART} standing={<span className="soft">No file here</span>}>
        <p className="soft">This desk was started by a program; there is no file to change here.</p>
      </Fold>
    );
  return (
    <Fold {...PART} standing={<Standing edited={edited} />}>
      <p>
        A change is written into {file}, with its remarks kept, once the whole file would be sound. It stands
        in the audit under your name.
      </p>
      {edited.waiting.length === 0 ? null : (
        <p>
          <State state="must" word="Start the desk again" /> Written and not in force yet:{" "}
          {edited.waiting.join(", ")}.
        </p>
      )}
      <ul className="plain index">
        {SECTIONS.map(([name, words]) => (
          <Section key={`${name} ${edited.digest}`} name={name} words={words} edited={edited} done={done} />
        ))}
      </ul>
    </Fold>
  );
}

function Standing({ edited: { sections, waiting } }: { readonly edited: EditedSettings }) {
  if (waiting.length > 0) return <State state="must" word="Start the desk again" />;
  const set = SECTIONS.filter(([name]) => sections[name] !== undefined).length;
  return (
    <span className="soft">
      {set} of {SECTIONS.length} sections set
    </span>
  );
}

interface SectionProps {
  readonly name: string;
  readonly words: string;
  readonly edited: EditedSettings;
  readonly done: () => void;
}

function Section({ name, words, edited, done }: SectionProps) {
  const [open, setOpen] = useState(false);
  const { busy, fault, said, take } = useStep();
  useUnfoldedBy(fault, PART.name);
  const value = edited.sections[name];
  /** Fields or a text that the section is to have; neither takes it out. */
  const put = (wanted: () => Promise<object>): void => {
    take(async () => {
      const body = { from: edited.digest, ...(await wanted()) };
      return (await tellDesk(`/api/settings/sections/${name}`, body, "PUT")).text;
    }, done);
  };
  return (
    <li className="flow">
      <p className="row">
        <strong>{words}</strong> <span className="soft">{value === undefined ? "as shipped" : "set"}</span>
        <button
          type="button"
          className="word"
          aria-expanded={open}
          onClick={() => {
            setOpen(!open);
          }}
        >
          {open ? "Put away" : "Change…"}
          <span className="unseen"> ({words})</span>
        </button>
      </p>
      {open ? (
        <>
          {name === "email" || name === "limits" || name === "drills" ? (
            <SectionFields section={name} value={value} busy={busy} put={put} />
          ) : (
            <SectionText section={name} value={value} busy={busy} put={put} />
          )}
          {fault !== null && fault.faults.length > 0 ? (
            <InputFaults file={words} faults={fault.faults} />
          ) : (
            <FaultText fault={fault} />
          )}
        </>
      ) : null}
      {said === null ? null : <p>{said}</p>}
    </li>
  );
}

import { useState } from "react";
import { Choice } from "../page/choice.tsx";
import { Field } from "../page/field.tsx";
import { tellDesk } from "./ask-desk.ts";
import { FaultText } from "./fault-text.tsx";
import { instantWords } from "./instant.ts";
import { useAnswer } from "./use-answer.ts";
import { useStep } from "./use-step.ts";

interface OwnerLink {
  readonly id: string;
  readonly label: string;
  readonly sites: readonly string[];
  readonly issuedAt: number;
  readonly issuedBy: string;
  readonly expiresAt: number;
  readonly openedAt: number | null;
}

/** Links by which owners look at their sites without an account. */
export function OwnerLinks() {
  const { value, fault, again } = useAnswer<readonly OwnerLink[]>("/api/owner-links", ["person"]);
  return (
    <section className="flow">
      <h2>Owners’ links</h2>
      <p className="soft">
        Whoever holds such a link sees the sites it names and changes nothing, until it expires or is revoked.
      </p>
      <FaultText fault={fault} />
      <ul className="plain index">
        {value?.map((link) => (
          <Line key={link.id} link={link} done={again} />
        ))}
      </ul>
      <MakeLink done={again} />
    </section>
  );
}

function Line({ link, done }: { readonly link: OwnerLink; readonly done: () => void }) {
  const { id, label, sites, issuedAt, issuedBy, expiresAt, openedAt } = link;
  const { busy, fault, take } = useStep();
  return (
    <li className="noted">
      <div className="flow">
        <p>
          <strong>{label}</strong>
          <br />
          <span className="soft">{sites.join(", ")}</span>
        </p>
        <button
          type="button"
          className="word"
          disabled={busy}
          onClick={() => {
            take(async () => {
              await tellDesk(`/api/owner-links/${encodeURIComponent(id)}/end`, {});
              return `The link of ${label} is revoked.`;
            }, done);
          }}
        >
          Revoke this link<span className="unseen"> of {label}</span>
        </button>
        <FaultText fault={fault} />
      </div>
      <p className="note">
        until {instantWords(expiresAt)}; made {instantWords(issuedAt)} by {issuedBy};{" "}
        {openedAt === null ? "not opened yet" : `first opened ${instantWords(openedAt)}`}
      </p>
    </li>
  );
}

const DAYS = [
  ["7", "7 days"],
  ["30", "30 days"],
  ["90", "90 days"],
  ["365", "365 days"],
] as const;

function MakeLink({ done }: { readonly done: () => void }) {
  const [label, setLabel] = useState("");
  const [typed, setTyped] = useState("");
  const [days, setDays] = useState("30");
  const [url, setUrl] = useState<string | null>(null);
  const { busy, fault, take } = useStep();
  const sites = typed.split(/[\s,;]+/u).filter(Boolean);
  const make = async (): Promise<null> => {
    const wanted = { label: label.trim(), sites, days: Number(days) };
    setUrl((await tellDesk<{ readonly url: string }>("/api/owner-links", wanted)).url);
    return null;
  };
  return (
    <form
      className="flow"
      onSubmit={(event) => {
        event.preventDefault();
        take(make, done);
      }}
    >
      <div className="fields">
        <Field words="Owner" hint="whom the link is for" value={label} typed={setLabel} />
        <Field words="May look at" hint="ids of sites, by commas" value={typed} typed={setTyped} />
        <Choice words="For" value={days} choices={DAYS} chosen={setDays} />
      </div>
      <button type="submit" disabled={busy || label.trim() === "" || sites.length === 0}>
        Make an owner’s link
      </button>
      <FaultText fault={fault} />
      {url === null ? null : (
        <div className="flow" role="status">
          <p>Give this link to the owner, by a way that only they read. It is not shown again.</p>
          <p className="once">{url}</p>
        </div>
      )}
    </form>
  );
}

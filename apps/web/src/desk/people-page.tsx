import { useState } from "react";
import { Link } from "../address/link.tsx";
import { Choice } from "../page/choice.tsx";
import { Field } from "../page/field.tsx";
import { Page } from "../page/page.tsx";
import { Asking } from "../page/asking.tsx";
import { useSettled } from "../page/use-settled.ts";
import { tellDesk } from "./ask-desk.ts";
import { FaultText } from "./fault-text.tsx";
import { instantWords } from "./instant.ts";
import { keepsDesk } from "./keeps-desk.ts";
import { Longer } from "./longer.tsx";
import { OwnerLinks } from "./owner-links.tsx";
import type { Me, Person, Role } from "./records.ts";
import { ROLE_WORDS } from "./role-words.ts";
import { useLonger } from "./use-longer.ts";
import { useStep } from "./use-step.ts";

/** Who can sign in at this desk. */
export default function PeoplePage({ me }: { readonly me: Me }) {
  const keeps = keepsDesk(me);
  if (!keeps)
    return (
      <Page title="Accounts">
        <p>Accounts are kept by service engineers who run the whole desk. Ask one of them.</p>
      </Page>
    );
  return (
    <Page title="Accounts" under="Who can sign in here, and owners who look by a link.">
      <p>
        <Link to="/people">People</Link>: whom a fault is told to.
      </p>
      <Accounts me={me} />
      <Invite />
      <OwnerLinks />
    </Page>
  );
}

function Accounts({ me }: { readonly me: Me }) {
  const [find, setFind] = useState("");
  const settled = useSettled(find.trim());
  const { value, fault, again, rows, longer } = useLonger<readonly Person[]>(
    // One more than is shown tells whether there are more.
    (shown) => `/api/people?${new URLSearchParams({ find: settled, limit: String(shown + 1) }).toString()}`,
    ["person"],
  );
  const shown = value?.slice(0, rows) ?? [];
  return (
    <>
      <div className="narrow">
        <Field words="Find an account" hint="words of a name or of its sites" value={find} typed={setFind} />
      </div>
      <FaultText fault={fault} />
      {value === undefined && fault === null ? <Asking /> : null}
      {value?.length === 0 ? <p className="soft">No such account.</p> : null}
      <ul className="plain index">
        {shown.map((person) => (
          <PersonLine key={person.id} person={person} own={person.name === me.name} done={again} />
        ))}
      </ul>
      <Longer
        more={(value?.length ?? 0) > shown.length ? "some" : 0}
        what="accounts"
        longer={longer}
        otherwise="Find the others by words of a name."
      />
    </>
  );
}

interface PersonLineProps {
  readonly person: Person;
  readonly own: boolean;
  readonly done: () => void;
}

function PersonLine({ person, own, done }: PersonLineProps) {
  const { id, name, role, sites, createdAt, createdBy, passkeys } = person;
  const [sure, setSure] = useState(false);
  const { busy, fault, take } = useStep();
  const end = (): void => {
    take(async () => {
      await tellDesk(`/api/people/${encodeURIComponent(id)}/end`, {});
      return `The account of ${name} has ended.`;
    }, done);
  };
  return (
    <li className="noted">
      <div className="flow">
        <p>
          <strong>{name}</strong>, {ROLE_WORDS[role].name.toLowerCase()}
          <br />
          <span className="soft">{sites === null ? "every site" : sites.join(", ")}</span>
        </p>
        {own ? null : sure ? (
          <p className="row">
            Every browser that is signed in as {name} is signed out.
            <button type="button" disabled={busy} onClick={end}>
              End the account of {name}
            </button>
          </p>
        ) : (
          <button
            type="button"
            className="word"
            onClick={() => {
              setSure(true);
            }}
          >
            End this account…<span className="unseen"> of {name}</span>
          </button>
        )}
        <FaultText fault={fault} />
      </div>
      <p className="note">
        since {instantWords(createdAt)}, invited by {createdBy};{" "}
        {passkeys === 1 ? "one passkey" : `${passkeys} passkeys`}
      </p>
    </li>
  );
}

const ROLES = ["service", "technician", "installer", "owner"] as const;

function Invite() {
  const [role, setRole] = useState<Role>("technician");
  const [typed, setTyped] = useState("");
  const [url, setUrl] = useState<string | null>(null);
  const { busy, fault, take } = useStep();
  const ids = typed.split(/[\s,;]+/u).filter(Boolean);
  const bound = role === "installer" || role === "owner";
  return (
    <section className="flow">
      <h2>Invite somebody</h2>
      <form
        className="flow"
        onSubmit={(event) => {
          event.preventDefault();
          take(async () => {
            const guest = { role, sites: ids.length === 0 ? null : ids };
            setUrl((await tellDesk<{ readonly url: string }>("/api/invitations", guest)).url);
            return null;
          });
        }}
      >
        <div className="fields">
          <Choice
            words="As"
            value={role}
            choices={ROLES.map((one) => [one, ROLE_WORDS[one].name])}
            chosen={(chosen) => {
              setRole(chosen as Role);
            }}
          />
          <Field
            words="For these sites"
            hint={bound ? "ids, by commas" : "ids, by commas; blank for every site"}
            value={typed}
            typed={setTyped}
          />
        </div>
        <p className="soft">
          {ROLE_WORDS[role].name}: {ROLE_WORDS[role].may}.
        </p>
        <button type="submit" disabled={busy || (bound && ids.length === 0)}>
          Make a link
        </button>
        <FaultText fault={fault} />
      </form>
      {url === null ? null : <JoinLink url={url} />}
    </section>
  );
}

function JoinLink({ url }: { readonly url: string }) {
  return (
    <div className="flow" role="status">
      <p>
        Give this link to the person, by a way that only they read. It works once, for three days, and is not
        shown again.
      </p>
      <p className="once">{url}</p>
    </div>
  );
}

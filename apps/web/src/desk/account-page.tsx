import { useState } from "react";
import { Link } from "../address/link.tsx";
import { Field } from "../page/field.tsx";
import { Page } from "../page/page.tsx";
import { FaultText } from "./fault-text.tsx";
import { addPasskey, passkeysPossible } from "./passkey.ts";
import type { Me } from "./records.ts";
import { ROLE_WORDS } from "./role-words.ts";
import { signOut } from "./session.ts";
import { useStep } from "./use-step.ts";

/** Who I am here, my passkeys, and the way out. */
export default function AccountPage({ me, fresh }: { readonly me: Me; readonly fresh: boolean }) {
  const { busy, fault, take } = useStep();
  return (
    <Page title={me.name} under={`${ROLE_WORDS[me.role].name}: ${ROLE_WORDS[me.role].may}`}>
      <p>{me.sites === null ? "Sees every site of this desk." : `Sees ${me.sites.join(", ")}.`}</p>
      {fresh ? <GoOn /> : null}
      {me.byLink === true ? null : <Passkey />}
      <section className="flow">
        <FaultText fault={fault} />
        <button
          type="button"
          disabled={busy}
          onClick={() => {
            take(async () => {
              await signOut();
              return "Signed out.";
            });
          }}
        >
          Sign this browser out
        </button>
      </section>
    </Page>
  );
}

/** The account was made a moment ago: what it was made for comes before what can be done to it. */
function GoOn() {
  return (
    <div className="flow">
      <p>The account is made and this browser is signed in.</p>
      <p>
        <Link to="/" className="main">
          Go on to what needs a person
        </Link>
      </p>
      {passkeysPossible() ? (
        <p className="soft">A passkey saves typing the password. Add it below, now or later.</p>
      ) : null}
    </div>
  );
}

function Passkey() {
  const [label, setLabel] = useState("This device");
  const { busy, fault, said, take } = useStep();
  return (
    <section className="flow">
      <h2>Passkey</h2>
      {passkeysPossible() ? (
        <form
          className="flow narrow"
          onSubmit={(event) => {
            event.preventDefault();
            take(async () => {
              await addPasskey(label.trim());
              return `Passkey "${label.trim()}" is added.`;
            });
          }}
        >
          <Field words="Called" hint="so that you know it from others" value={label} typed={setLabel} />
          <button type="submit" disabled={busy || label.trim() === ""}>
            Add a passkey of this device
          </button>
        </form>
      ) : (
        <p className="soft">
          This browser offers no passkeys at this address. They need an encrypted address (https) with a name,
          not with figures; on the desk&apos;s own machine, localhost.
        </p>
      )}
      <FaultText fault={fault} />
      {said === null ? null : <p>{said}</p>}
    </section>
  );
}

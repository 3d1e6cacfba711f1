import { useEffect, useState } from "react";
import { go } from "../address/address.ts";
import { Link } from "../address/link.tsx";
import { Page } from "../page/page.tsx";
import { type DeskFault, readDesk, tellDesk } from "./ask-desk.ts";
import { Credentials } from "./credentials.tsx";
import { FaultText } from "./fault-text.tsx";
import { instantWords } from "./instant.ts";
import type { Me, Role } from "./records.ts";
import { ROLE_WORDS } from "./role-words.ts";
import { signedInAs } from "./session.ts";
import { useStep } from "./use-step.ts";

interface Invitation {
  readonly role: Role;
  readonly sites: readonly string[] | null;
  readonly expiresAt: number;
}

/** The page behind a link that makes an account once. Looking at it does not use it. */
export default function JoinPage({ token }: { readonly token: string }) {
  const [invitation, setInvitation] = useState<Invitation | null>(null);
  const [fault, setFault] = useState<DeskFault | null>(null);
  const path = `/api/join/${encodeURIComponent(token)}`;
  useEffect(() => {
    readDesk<Invitation>(path).then(setInvitation, (error: unknown) => {
      setFault(error as DeskFault);
    });
  }, [path]);
  if (fault !== null)
    return (
      <Page title="This link does not open an account">
        <FaultText fault={fault} />
        <p>
          If you have made your account by it, <Link to="/sign-in">sign in</Link>.
        </p>
      </Page>
    );
  if (invitation === null) return <p className="soft">Reading the link…</p>;
  return <Join path={path} invitation={invitation} />;
}

const SHORTEST = 12;

function Join({ path, invitation }: { readonly path: string; readonly invitation: Invitation }) {
  const [name, setName] = useState("");
  const [password, setPassword] = useState("");
  const { busy, fault, take } = useStep();
  const short = password.length > 0 && password.length < SHORTEST;
  const { role, sites, expiresAt } = invitation;
  return (
    <Page title="Make your account" under={`${ROLE_WORDS[role].name}: ${ROLE_WORDS[role].may}`}>
      <p>
        {sites === null ? "For every site of this desk." : `For ${sites.join(", ")}.`} The link works once,
        until {instantWords(expiresAt)}.
      </p>
      <form
        className="flow narrow"
        noValidate
        onSubmit={(event) => {
          event.preventDefault();
          take(async () => {
            signedInAs(await tellDesk<Me>(path, { name: name.trim(), password }));
            go("/account?new=yes", { replace: true });
            return null;
          });
        }}
      >
        <Credentials {...{ name, password }} fresh nameTyped={setName} passwordTyped={setPassword} />
        {short ? <p className="soft small">{SHORTEST - password.length} more characters</p> : null}
        <FaultText fault={fault} />
        <button
          type="submit"
          className="main"
          disabled={busy || name.trim() === "" || password.length < SHORTEST}
        >
          Make the account
        </button>
      </form>
    </Page>
  );
}

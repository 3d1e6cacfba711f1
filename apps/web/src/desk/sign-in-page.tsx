import { useEffect, useState } from "react";
import { Page } from "../page/page.tsx";
import { tellDesk } from "./ask-desk.ts";
import { Credentials } from "./credentials.tsx";
import { FaultText } from "./fault-text.tsx";
import { passkeysPossible, signInByPasskey } from "./passkey.ts";
import type { Me } from "./records.ts";
import { findSession, signedInAs, useSession } from "./session.ts";
import { useStep } from "./use-step.ts";

/** Signing in, in the place of whatever page asked for it, so that the page is there afterwards. */
export default function SignInPage() {
  const session = useSession();
  useEffect(() => {
    if (session.state === "no-desk") void findSession({ again: true });
    // Only once: an address that has no desk now is not asked again and again.
  }, []);
  if (session.state === "no-desk")
    return (
      <Page title="No desk answers at this address">
        <p>
          These pages need a desk, which listens to devices and tells people. Visits, sites, advice, rules and
          practice work without one.
        </p>
      </Page>
    );
  if (session.state === "unreachable") return <Unreachable />;
  const lost = session.state === "nobody" ? session.lost : null;
  return lost === "link" ? <LinkEnded /> : <SignIn lost={lost !== null} />;
}

/** Who looked by an owner's link has no account, so a name and a password are no help. */
function LinkEnded() {
  const [byName, setByName] = useState(false);
  if (byName) return <SignIn lost={false} />;
  return (
    <Page title="The link has ended">
      <p>
        The link by which this browser looked at a site has expired or was revoked. Ask whoever gave it to you
        for another.
      </p>
      <p>
        <button
          type="button"
          className="word"
          onClick={() => {
            setByName(true);
          }}
        >
          Sign in with an account instead
        </button>
      </p>
    </Page>
  );
}

function Unreachable() {
  return (
    <Page title="The desk cannot be reached">
      <p>
        This device has no signal to it, or it is stopped. What is kept on this device works on; alarms are
        not shown here until the desk is heard again.
      </p>
      <p>
        <button
          type="button"
          onClick={() => {
            void findSession({ again: true });
          }}
        >
          Try again
        </button>
      </p>
    </Page>
  );
}

function SignIn({ lost }: { readonly lost: boolean }) {
  const [name, setName] = useState("");
  const [password, setPassword] = useState("");
  const { busy, fault, take } = useStep();
  const enter = (work: () => Promise<Me>): void => {
    take(async () => {
      signedInAs(await work());
      return null;
    });
  };
  return (
    <Page
      title="Sign in"
      under={lost ? "The desk no longer knows this browser. Sign in to go on where you were." : undefined}
    >
      <form
        className="flow narrow"
        noValidate
        onSubmit={(event) => {
          event.preventDefault();
          enter(async () => await tellDesk<Me>("/api/sign-in", { name: name.trim(), password }));
        }}
      >
        <Credentials {...{ name, password }} fresh={false} nameTyped={setName} passwordTyped={setPassword} />
        <FaultText fault={fault} />
        <p className="row">
          <button type="submit" className="main" disabled={busy}>
            Sign in
          </button>
          {passkeysPossible() ? (
            <button
              type="button"
              disabled={busy}
              onClick={() => {
                enter(signInByPasskey);
              }}
            >
              With a passkey
            </button>
          ) : null}
        </p>
      </form>
      <WithoutAccount />
    </Page>
  );
}

function WithoutAccount() {
  return (
    <section>
      <p className="soft">
        An account begins with a link, given by somebody who runs the desk. Finding a fault, sites, advice and
        rules need no account.
      </p>
    </section>
  );
}

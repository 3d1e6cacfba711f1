import { useEffect, useState } from "react";
import { go } from "../address/address.ts";
import { Page } from "../page/page.tsx";
import { type DeskFault, tellDesk } from "./ask-desk.ts";
import { FaultText } from "./fault-text.tsx";
import type { Me } from "./records.ts";
import { signedInAs } from "./session.ts";

/** The page behind an owner's link: it opens the own sites in this browser, to look at and not to change. */
export default function LookPage({ token }: { readonly token: string }) {
  const [fault, setFault] = useState<DeskFault | null>(null);
  useEffect(() => {
    tellDesk<Me>("/api/look", { token }).then(
      (me) => {
        signedInAs({ ...me, byLink: true });
        go("/register", { replace: true });
      },
      (error: unknown) => {
        setFault(error as DeskFault);
      },
    );
  }, [token]);
  if (fault === null) return <p className="soft">Opening the link…</p>;
  return (
    <Page title="This link does not open anything">
      <FaultText fault={fault} />
    </Page>
  );
}

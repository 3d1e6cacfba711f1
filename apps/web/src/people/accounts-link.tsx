import { Link } from "../address/link.tsx";
import { keepsDesk } from "../desk/keeps-desk.ts";
import type { Me } from "../desk/records.ts";

/** The way to who can sign in, for those who keep accounts. */
export function AccountsLink({ me }: { readonly me: Me }) {
  if (!keepsDesk(me)) return null;
  return (
    <p>
      <Link to="/people/accounts">Accounts</Link>: who can sign in here, and owners’ links.
    </p>
  );
}

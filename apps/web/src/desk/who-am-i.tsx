import { Link } from "../address/link.tsx";
import { useSession } from "./session.ts";

/** Who is signed in, at the end of the top line; nothing where there is no desk. */
export function WhoAmI({ place }: { readonly place: string }) {
  const session = useSession();
  switch (session.state) {
    case "someone":
      return (
        <Link to="/account" aria-current={place === "account" ? "page" : undefined}>
          {session.me.name}
        </Link>
      );
    case "nobody":
      return (
        <Link to="/sign-in" aria-current={place === "sign-in" ? "page" : undefined}>
          Sign in
        </Link>
      );
    case "unreachable":
      return <span className="soft">desk not reached</span>;
    case "asking":
    case "no-desk":
      return null;
  }
}

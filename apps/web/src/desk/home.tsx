import { lazy, type ReactNode, Suspense } from "react";
import { maySignIn, useSession } from "./session.ts";

/** What the first page is made of where somebody is signed in, fetched when it is first asked for. */
export const NOW = () => import("./now-page.tsx");
const NowPage = lazy(NOW);

/** The first page: what needs a person where somebody is signed in, else what is under way on this device. */
export function Home({ otherwise }: { readonly otherwise: ReactNode }) {
  const session = useSession();
  if (session.state === "asking" && maySignIn()) return <p className="soft">Asking the desk…</p>;
  if (session.state !== "someone") return otherwise;
  return (
    <Suspense fallback={<p className="soft">Opening…</p>}>
      <NowPage me={session.me} />
    </Suspense>
  );
}

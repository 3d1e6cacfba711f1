import { type ReactNode, useDeferredValue } from "react";
import { NowPage } from "./now-page.tsx";
import { NotReached } from "./not-reached.tsx";
import { Unheard } from "./unheard.tsx";
import { maySignIn, useSession } from "./session.ts";
import { Asking } from "../page/asking.tsx";

/** The first page: what needs a person where somebody is signed in, else what is under way on this device, and that more is not known where the desk is not reached. */
export function Home({ otherwise }: { readonly otherwise: ReactNode }) {
  // In slices as well: a store that changes is else drawn at one go.
  const session = useDeferredValue(useSession());
  if (session.state === "asking" && maySignIn()) return <Asking />;
  if (session.state === "unreachable")
    return (
      <>
        <NotReached />
        {otherwise}
      </>
    );
  if (session.state !== "someone") return otherwise;
  return (
    <>
      <Unheard />
      <NowPage me={session.me} />
    </>
  );
}

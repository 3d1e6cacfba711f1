import { type ReactNode, useDeferredValue } from "react";
import { NowPage } from "./now-page.tsx";
import { Unheard } from "./unheard.tsx";
import { maySignIn, useSession } from "./session.ts";
import { Asking } from "../page/asking.tsx";

/** The first page: what needs a person where somebody is signed in, else what is under way on this device. */
export function Home({ otherwise }: { readonly otherwise: ReactNode }) {
  // In slices as well: a store that changes is else drawn at one go.
  const session = useDeferredValue(useSession());
  if (session.state === "asking" && maySignIn()) return <Asking />;
  if (session.state !== "someone") return otherwise;
  return (
    <>
      <Unheard />
      <NowPage me={session.me} />
    </>
  );
}

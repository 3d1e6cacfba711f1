import { BUILT_IN_PACKS } from "@earthbell/engine";
import { lazy, Suspense } from "react";
import { useMe } from "../desk/session.ts";
import { RulePackView } from "./rule-pack-view.tsx";

const OwnRulePack = lazy(async () => await import("../desk/own-rule-pack.tsx"));

export default function RulePackPage({ id }: { readonly id: string }) {
  const pack = BUILT_IN_PACKS.find((one) => one.id === id);
  const me = useMe();
  if (me === null) return <RulePackView pack={pack} />;
  return (
    <Suspense fallback={<p className="soft">Opening…</p>}>
      <OwnRulePack id={id} me={me} />
    </Suspense>
  );
}

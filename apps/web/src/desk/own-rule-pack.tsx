import { BUILT_IN_PACKS } from "@earthbell/engine";
import { RulePackView } from "../rules/rule-pack-view.tsx";
import { OwnPackWords, useOwnPacks } from "./own-packs.tsx";

/** A rule pack as this desk goes by it: its own where it has one. */
export default function OwnRulePack({ id }: { readonly id: string }) {
  const { value, fault } = useOwnPacks();
  const own = value?.find(({ pack }) => pack.id === id);
  if (value === undefined && fault === null) return <p className="soft">Asking the desk…</p>;
  const pack = own?.pack ?? BUILT_IN_PACKS.find((one) => one.id === id);
  return <RulePackView pack={pack} above={own === undefined ? null : <OwnPackWords own={own} />} />;
}

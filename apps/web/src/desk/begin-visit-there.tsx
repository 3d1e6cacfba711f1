import { go } from "../address/address.ts";
import { useDesk } from "../keep/use-desk.ts";
import { FaultText } from "./fault-text.tsx";
import { takeSite } from "./site-file.ts";
import { useStep } from "./use-step.ts";

/** Begins a visit for a site of the desk; its file is taken onto this device first, since there may be no signal there. */
export function BeginVisitThere({ site }: { readonly site: string }) {
  const desk = useDesk();
  const { busy, fault, take } = useStep();
  return (
    <>
      <button
        type="button"
        disabled={busy}
        onClick={() => {
          take(async () => {
            await takeSite(desk, site);
            go(`/visits/new?site=${encodeURIComponent(site)}`);
            return null;
          });
        }}
      >
        Begin a visit there
      </button>
      <FaultText fault={fault} />
    </>
  );
}

import { go } from "../address/address.ts";
import { useDesk } from "../keep/use-desk.ts";
import { readAtCase } from "../visit/read-at-case.ts";
import { FaultText } from "./fault-text.tsx";
import { takeSite } from "./site-file.ts";
import { useStep } from "./use-step.ts";

interface BeginVisitThereProps {
  readonly site: string;
  readonly array?: string;
  /** The case for which somebody goes there. */
  readonly of?: string;
}

/** Begins a visit for a site of the desk; its file is taken onto this device first, since there may be no signal there. */
export function BeginVisitThere({ site, array, of }: BeginVisitThereProps) {
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
            const about = {
              site,
              ...(array === undefined ? {} : { array }),
              ...(of === undefined ? {} : { case: of }),
            };
            if (of !== undefined) readAtCase(of, new Date().toISOString());
            go(`/visits/new?${new URLSearchParams(about).toString()}`);
            return null;
          });
        }}
      >
        Begin a visit there{of === undefined ? "" : "; I have read the cautions above"}
      </button>
      <FaultText fault={fault} />
    </>
  );
}

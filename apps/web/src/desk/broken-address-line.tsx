import { State } from "../page/state.tsx";
import { tellDesk } from "./ask-desk.ts";
import { FaultText } from "./fault-text.tsx";
import { instantWords } from "./instant.ts";
import type { BrokenAddress } from "./records.ts";
import { useStep } from "./use-step.ts";

interface BrokenAddressLineProps {
  readonly one: BrokenAddress;
  /** Called once it is put right. */
  readonly done: () => void;
}

/** An address that reaches nobody, why, and a button for when it does again. */
export function BrokenAddressLine({ one, done }: BrokenAddressLineProps) {
  const { channel, address, sinceAt, reason } = one;
  const { busy, fault, take } = useStep();
  return (
    <li className="noted">
      <div className="flow">
        <p>
          <State state="fault" word="Broken address" /> <span className="address">{address}</span> by{" "}
          {channel}
          <br />
          <span className="soft">{reason}</span>
        </p>
        <button
          type="button"
          disabled={busy}
          onClick={() => {
            take(
              async () => (await tellDesk("/api/broken-addresses/mended", { channel, address })).text,
              done,
            );
          }}
        >
          {address} works again
        </button>
        <FaultText fault={fault} />
      </div>
      <p className="note">since {instantWords(sinceAt)}</p>
    </li>
  );
}

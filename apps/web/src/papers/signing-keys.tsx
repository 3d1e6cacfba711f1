import { tellDesk } from "../desk/ask-desk.ts";
import { FaultText } from "../desk/fault-text.tsx";
import { instantWords } from "../desk/instant.ts";
import type { Me } from "../desk/records.ts";
import { useAnswer } from "../desk/use-answer.ts";
import { useStep } from "../desk/use-step.ts";

interface Key {
  readonly id: string;
  readonly current: boolean;
  readonly since: number;
}

/** The public keys by which papers can be checked without this desk, and a new key where the old one is not trusted any more. */
export function SigningKeys({ me }: { readonly me: Me }) {
  const { value, fault, again } = useAnswer<readonly Key[]>("/api/papers/keys", ["paper"]);
  const { busy, fault: refused, said, take } = useStep();
  const renew = (): void => {
    take(async () => {
      const { id } = await tellDesk<Key>("/api/papers/keys");
      return `Papers are signed with the key ${id} from now on. Give its public key to whoever checks them.`;
    }, again);
  };
  return (
    <section className="flow">
      <h2>Signatures</h2>
      <p>
        Every paper issued here is signed. Whoever has the public key can check one without this desk:{" "}
        <code>earthbell verify FILE --key KEY.pem</code>, with FILE.sig beside it. Give the key by another way
        than the papers.
      </p>
      <FaultText fault={fault} />
      <ul className="plain index">
        {value?.map(({ id, current, since }) => (
          <li key={id} className="noted">
            <p>
              <a href={`/api/papers/keys/${id}`} download={`papers-${id}.pem`}>
                Public key {id}
              </a>
            </p>
            <p className="note">
              {current ? "signs since" : "has signed before; known since"} {instantWords(since)}
            </p>
          </li>
        ))}
      </ul>
      {me.role === "service" && me.sites === null ? (
        <details>
          <summary>Sign with a new key</summary>
          <div className="flow">
            <p>
              Where somebody may have read the folder of the desk. What was signed before stays valid by the
              key before it, so tell whoever checks papers from which day on it no longer counts.
            </p>
            <button type="button" disabled={busy} onClick={renew}>
              {busy ? "Making a key…" : "Make a new key"}
            </button>
            <FaultText fault={refused} />
            {said === null ? null : <p>{said}</p>}
          </div>
        </details>
      ) : null}
    </section>
  );
}

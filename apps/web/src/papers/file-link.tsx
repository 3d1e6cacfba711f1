import { Link } from "../address/link.tsx";

interface FileLinkProps {
  readonly name: string;
  /** Its signature lies beside it, and can be taken away as well. */
  readonly signed: boolean;
}

/** An issued file to take away, by its format, and its signature. */
export function FileLink({ name, signed }: FileLinkProps) {
  const format = name.slice(name.lastIndexOf(".") + 1).toUpperCase();
  const address = (of: string): string => `/api/papers/files/${encodeURIComponent(of)}`;
  return (
    <>
      <a href={address(name)} download={name}>
        {format}
      </a>
      {signed ? (
        <>
          {" "}
          <a
            className="small"
            href={address(`${name}.sig`)}
            download={`${name}.sig`}
            aria-label={`Signature of the ${format}`}
          >
            signature
          </a>
        </>
      ) : null}
    </>
  );
}

/** What to do with a file and its signature, for whoever is handed them. */
export function CheckWords() {
  return (
    <p className="small soft">
      To check a file later, keep its signature beside it: <code>earthbell verify FILE --key KEY.pem</code>{" "}
      says valid, altered, or unknown key. The public key, and a check without the command, are under{" "}
      <Link to="/papers">Papers</Link>.
    </p>
  );
}

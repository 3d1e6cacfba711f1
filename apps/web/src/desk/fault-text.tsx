import { DeskFault } from "./ask-desk.ts";

/** What the desk refused or could not answer, in its words, with its code for a report. */
export function FaultText({ fault }: { readonly fault: DeskFault | null }) {
  if (fault === null) return null;
  return (
    <div role="alert" className="wrong flow">
      <p>
        {fault.message} <span className="figure">{fault.code}</span>
      </p>
      {fault.fields.length === 0 ? null : (
        <ul>
          {fault.fields.map(({ field, message }) => (
            <li key={field + message}>
              {field}: {message}
            </li>
          ))}
        </ul>
      )}
    </div>
  );
}

import { FaultText } from "../desk/fault-text.tsx";
import { useAnswer } from "../desk/use-answer.ts";

/** The address of what is due, for a calendar that fetches it by itself. Whoever has it reads it, so it is not printed. */
export function CalendarFeed() {
  const { value, fault } = useAnswer<{ readonly address: string }>("/api/calendar", []);
  return (
    <section className="flow controls">
      <h2>What is due, in your calendar</h2>
      <FaultText fault={fault} />
      {value === undefined ? null : (
        <>
          <p>
            Proofs, drills, reviews and ends of posts at your sites. Give this address to your calendar as one
            to subscribe to. Whoever has it reads what is due, and nothing else; keep it to yourself.
          </p>
          <p className="once">{value.address}</p>
        </>
      )}
    </section>
  );
}

import { State } from "../page/state.tsx";
import { instantWords } from "./instant.ts";
import { useUnheardSince } from "./live.ts";

/** Says that what a page shows may be old: silence is believed only while the desk is heard. */
export function Unheard() {
  const since = useUnheardSince();
  return (
    <div role="status">
      {since === null ? null : (
        <p className="page unheard">
          <State state="unsure" word="Desk not heard" /> since {instantWords(since)}. What stands below is
          from before; alarms since then are not shown. This page asks again by itself. Look whether this
          device has signal; if others do not reach the desk either, see that it runs.
        </p>
      )}
    </div>
  );
}

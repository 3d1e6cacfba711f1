/** Stands where an answer of the desk will stand. A screen high, so that what follows stays below the screen. */
export function Asking() {
  return <p className="soft asking">Asking the desk…</p>;
}

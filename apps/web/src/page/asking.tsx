/** Stands where an answer of the desk will stand. A screen high, so that what follows does not jump when it comes. */
export function Asking() {
  return <p className="soft asking">Asking the desk…</p>;
}

/** Earthbell's mark: a bell whose clapper is the earth symbol. */
export function BellMark() {
  return (
    <svg viewBox="0 0 64 64" aria-hidden="true" fill="none" strokeWidth="4.5" strokeLinecap="round">
      <path d="M12 36C18 33 18 27 19 23A13 13 0 0 1 45 23C46 27 46 33 52 36M32 10V5" stroke="currentColor" />
      <path d="M32 30V42M18 42H46M24 50H40M29 58H35" className="clapper" />
    </svg>
  );
}

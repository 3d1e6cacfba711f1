import { useSyncExternalStore } from "react";

const SAID = "earthbell:said";
let said = "";

/** Tells a screen reader what changed without moving the focus. What is told is visible on the page as well. */
export function announce(text: string): void {
  said = text;
  window.dispatchEvent(new Event(SAID));
}

function listen(changed: () => void): () => void {
  window.addEventListener(SAID, changed);
  return () => {
    window.removeEventListener(SAID, changed);
  };
}

export function Announcer() {
  const text = useSyncExternalStore(listen, () => said);
  return (
    <div className="unseen" role="status" aria-live="polite">
      {text}
    </div>
  );
}

import { type RefObject, useEffect } from "react";

/** From the first of these on, the page is moved by the person. */
const TOUCHES = ["pointerdown", "wheel", "keydown"] as const;

/**
 * Brings what is asked now wholly on the screen, keeps it there while the page above it is still coming until the person
 * touches anything, and brings it back when the phone is turned.
 *
 * @param which  what is asked; another one is brought on the screen anew, null leaves the page where it is
 */
export function useHeldOnScreen(asked: RefObject<HTMLElement | null>, which: string | null): void {
  useEffect(() => {
    if (which === null) return undefined;
    const bring = (): void => {
      asked.current?.scrollIntoView({ block: "nearest" });
    };
    const leave = holdUntilTouched(bring);
    window.addEventListener("resize", bring);
    return () => {
      leave();
      window.removeEventListener("resize", bring);
    };
  }, [asked, which]);
}

/** Brings something on the screen now and whenever the page grows or shrinks, until the person touches anything; returns how to stop. */
export function holdUntilTouched(bring: () => void): () => void {
  const coming = new ResizeObserver(bring);
  const touched = new AbortController();
  const stop = (): void => {
    coming.disconnect();
    touched.abort();
  };
  coming.observe(document.body);
  for (const touch of TOUCHES)
    window.addEventListener(touch, stop, { signal: touched.signal, passive: true });
  return stop;
}

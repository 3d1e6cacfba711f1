import { type RefObject, useEffect, useRef, useState } from "react";

/** Whether something has come onto the screen yet, so that what it needs is fetched only when somebody may read it. */
export function useNear<Part extends HTMLElement>(): {
  readonly part: RefObject<Part | null>;
  readonly near: boolean;
} {
  const part = useRef<Part>(null);
  const [near, setNear] = useState(false);
  useEffect(() => {
    if (near || part.current === null) return undefined;
    const seen = new IntersectionObserver((entries) => {
      if (entries.some(({ isIntersecting }) => isIntersecting)) setNear(true);
    });
    seen.observe(part.current);
    return () => {
      seen.disconnect();
    };
  }, [near]);
  return { part, near };
}

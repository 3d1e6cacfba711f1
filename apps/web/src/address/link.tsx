import type { AnchorHTMLAttributes, MouseEvent, ReactNode } from "react";
import { go } from "./address.ts";

interface LinkProps extends AnchorHTMLAttributes<HTMLAnchorElement> {
  readonly to: string;
  readonly children: ReactNode;
}

/** A link inside the app. It has a real address, so that it can be copied, opened in a tab of its own, and read aloud. */
export function Link({ to, children, ...rest }: LinkProps) {
  const follow = (event: MouseEvent<HTMLAnchorElement>): void => {
    if (event.defaultPrevented || event.button !== 0) return;
    if (event.metaKey || event.ctrlKey || event.shiftKey || event.altKey) return;
    event.preventDefault();
    go(to);
  };
  return (
    <a href={to} onClick={follow} {...rest}>
      {children}
    </a>
  );
}

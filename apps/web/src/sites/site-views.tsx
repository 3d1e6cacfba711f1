import type { Site } from "@earthbell/engine";
import { lazy, Suspense, useState } from "react";
import { Link } from "../address/link.tsx";

interface ViewProps {
  readonly site: Site;
  /** Day at the site for which paths and proofs are judged. */
  readonly onDate: string;
}

/** What is worked out from a site's file alone, on the device that shows it. */
const VIEWS = [
  { id: "path", name: "Path", View: lazy(async () => await import("./path-view.tsx")) },
  { id: "duty", name: "Duty", View: lazy(async () => await import("./duty-view.tsx")) },
  { id: "coverage", name: "Coverage", View: lazy(async () => await import("./coverage-view.tsx")) },
  { id: "notice", name: "Time to notice", View: lazy(async () => await import("./notice-view.tsx")) },
  { id: "loop", name: "Loop", View: lazy(async () => await import("./loop-view.tsx")) },
] as const;

const today = (): string => new Date().toISOString().slice(0, 10);

interface TabsProps {
  /** Address of the site's page, to which a view is added. */
  readonly at: string;
  readonly shown: string;
  /** Views of the page itself, before those of the file. */
  readonly own?: readonly { readonly id: string; readonly name: string }[];
}

export function SiteTabs({ at, shown, own = [] }: TabsProps) {
  return (
    <nav aria-label="Of this site">
      <ul className="sub">
        {[...own, ...VIEWS].map(({ id, name }) => (
          <li key={id}>
            <Link to={`${at}/${id}`} aria-current={id === shown ? "page" : undefined}>
              {name}
            </Link>
          </li>
        ))}
      </ul>
    </nav>
  );
}

/** The view of this name; an unknown name opens the first. */
export function SiteView({ site, view }: { readonly site: Site; readonly view: string }) {
  const [onDate] = useState(today);
  const { View } = viewCalled(view);
  const given: ViewProps = { site, onDate };
  return (
    <Suspense fallback={<p className="soft">Opening…</p>}>
      <View {...given} />
    </Suspense>
  );
}

function viewCalled(name: string): (typeof VIEWS)[number] {
  return VIEWS.find(({ id }) => id === name) ?? VIEWS[0];
}

/** What an address may end in; anything else stands for the first view. */
export function nameOfView(name: string): string {
  return viewCalled(name).id;
}

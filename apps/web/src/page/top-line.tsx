import { lazy, Suspense, useEffect, useState, useSyncExternalStore } from "react";
import { Link } from "../address/link.tsx";
import { PLACES } from "../address/places.ts";
import { deskPlacesOf } from "../desk/desk-places.ts";
import { useMe } from "../desk/session.ts";
import { WhoAmI } from "../desk/who-am-i.tsx";
import { offlineState, type OfflineState, takeNewer, watchOffline } from "../keep/offline.ts";
import { setTheme, useTheme } from "../look/theme.ts";
import { BellMark } from "./mark.tsx";

const Palette = lazy(async () => await import("./palette.tsx"));

const OFFLINE_WORDS: Readonly<Record<OfflineState, string | null>> = {
  preparing: null,
  ready: "works without signal",
  "newer-waiting": null,
  impossible: "needs signal to open",
};

/** Ctrl or Cmd with K opens the palette from anywhere. */
function usePaletteKey(setAsking: (asking: boolean) => void): void {
  useEffect(() => {
    const pressed = (event: KeyboardEvent): void => {
      if (event.key.toLowerCase() !== "k" || !(event.ctrlKey || event.metaKey)) return;
      event.preventDefault();
      setAsking(true);
    };
    window.addEventListener("keydown", pressed);
    return () => {
      window.removeEventListener("keydown", pressed);
    };
  }, [setAsking]);
}

export function TopLine({ place }: { readonly place: string }) {
  const [asking, setAsking] = useState(false);
  const theme = useTheme();
  usePaletteKey(setAsking);
  return (
    <header className="top">
      <Link to="/" className="wordmark" aria-current={place === "" ? "page" : undefined}>
        <BellMark /> Earthbell
      </Link>
      <Places place={place} />
      <div className="aside small">
        <Offline />
        <button
          type="button"
          className="word"
          aria-haspopup="dialog"
          aria-keyshortcuts="Control+K"
          onClick={() => {
            setAsking(true);
          }}
        >
          Go to…
        </button>
        <button
          type="button"
          className="word"
          aria-pressed={theme === "roof"}
          onClick={() => {
            setTheme(theme === "roof" ? "system" : "roof");
          }}
        >
          Roof
        </button>
        <WhoAmI place={place} />
      </div>
      {asking ? (
        <Suspense>
          <Palette
            close={() => {
              setAsking(false);
            }}
          />
        </Suspense>
      ) : null}
    </header>
  );
}

function Places({ place }: { readonly place: string }) {
  const me = useMe();
  const places = [...deskPlacesOf(me), ...PLACES.filter(({ yields }) => me === null || yields !== true)];
  return (
    <nav aria-label="Places">
      <ul>
        {places.map(({ path, name }) => (
          <li key={path}>
            <Link to={path} aria-current={path === `/${place}` ? "page" : undefined}>
              {name}
            </Link>
          </li>
        ))}
      </ul>
    </nav>
  );
}

/** One line of truth about working without signal; a newer version is offered, never forced on a person at work. */
function Offline() {
  const state = useSyncExternalStore(watchOffline, offlineState);
  if (state === "newer-waiting")
    return (
      <button type="button" className="word newer" onClick={takeNewer}>
        Take the newer version
      </button>
    );
  const words = OFFLINE_WORDS[state];
  return words === null ? null : <span className="offline soft">{words}</span>;
}

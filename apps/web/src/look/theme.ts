import { useSyncExternalStore } from "react";

/** `system` follows the device; `roof` is for sun and gloves. */
export const THEMES = ["system", "light", "dark", "roof"] as const;
export type Theme = (typeof THEMES)[number];

const KEPT_AS = "earthbell.theme";
const CHANGED = "earthbell:theme";

/** Kept on this device. A browser that refuses storage gets the system's theme each time. */
function kept(): Theme {
  try {
    return THEMES.find((theme) => theme === localStorage.getItem(KEPT_AS)) ?? "system";
  } catch {
    return "system";
  }
}

let theme: Theme = kept();

function show(): void {
  if (theme === "system") delete document.documentElement.dataset["theme"];
  else document.documentElement.dataset["theme"] = theme;
}

export function setTheme(wanted: Theme): void {
  theme = wanted;
  show();
  try {
    localStorage.setItem(KEPT_AS, wanted);
  } catch {
    // Shown all the same, only not kept.
  }
  window.dispatchEvent(new Event(CHANGED));
}

function listen(changed: () => void): () => void {
  window.addEventListener(CHANGED, changed);
  return () => {
    window.removeEventListener(CHANGED, changed);
  };
}

export function useTheme(): Theme {
  return useSyncExternalStore(listen, () => theme);
}

show();

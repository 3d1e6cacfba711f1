import { useEffect, useRef, useState } from "react";
import type { KeptForm } from "./kept.ts";
import { useDesk } from "./use-desk.ts";

export interface OpenForm<Form> {
  /** undefined until it was looked for on this device. */
  readonly form: Form | undefined;
  /** Something was entered that has not become a record yet. */
  readonly begun: boolean;
  /** The last change is in the database of this browser. */
  readonly saved: boolean;
  /** Why this browser could not keep the last change; null: it could. */
  readonly refused: string | null;
  readonly change: (how: (form: Form) => Form) => void;
  /** The form is done with: nothing of it stays on this device. */
  readonly clear: () => Promise<void>;
}

/** The open page, apart from every other one that may have the same form open. */
const WRITER = crypto.randomUUID();

/**
 * A form that survives a reload, a killed tab and a dead battery: every change is written to this browser's database before
 * anything else happens to it. What another open page enters is shown here too.
 *
 * @param blank  what stands in it before anything was entered
 */
export function useKeptForm<Form>(id: string, blank: Form): OpenForm<Form> {
  const { forms, watch } = useDesk();
  const [shown, setShown] = useState<Shown<Form> | null>(null);
  const { keep, saved, refused } = useKeeping(id);
  const latest = useRef<Shown<Form> | null>(null);
  const show = (now: Shown<Form> | null): void => {
    latest.current = now;
    if (now !== null) setShown(now);
  };
  useEffect(() => {
    let gone = false;
    const take = (found: KeptForm | null): void => {
      if (gone) return;
      if (found !== null && (latest.current === null || found.writer !== WRITER))
        show({ form: found.form as Form, begun: true });
      else if (latest.current === null) show({ form: blank, begun: false });
    };
    const opening = forms.one(id).then(take);
    const stop = watch(() => {
      void opening.then(async () => {
        take(await forms.one(id));
      });
    });
    return () => {
      gone = true;
      show(null);
      stop();
    };
    // The blank form is written anew in every rendering and always the same.
  }, [forms, watch, id]);
  return {
    form: shown?.form,
    begun: shown?.begun === true,
    saved,
    refused,
    change: (how) => {
      if (latest.current === null) return;
      const form = how(latest.current.form);
      show({ form, begun: true });
      keep(form);
    },
    clear: async () => {
      await forms.remove(id);
      show({ form: blank, begun: false });
    },
  };
}

/** Writes one change after the other, and says whether the last one is written. */
function useKeeping(
  id: string,
): Pick<OpenForm<unknown>, "saved" | "refused"> & { readonly keep: (form: unknown) => void } {
  const { forms } = useDesk();
  const [unsaved, setUnsaved] = useState(0);
  const [refused, setRefused] = useState<string | null>(null);
  const write = async (form: unknown): Promise<void> => {
    setUnsaved((count) => count + 1);
    const item = { id, changed: new Date().toISOString(), writer: WRITER, form };
    setRefused(await forms.keep(item).then(() => null, words));
    setUnsaved((count) => count - 1);
  };
  return {
    keep: (form) => {
      void write(form);
    },
    saved: unsaved === 0,
    refused,
  };
}

interface Shown<Form> {
  readonly form: Form;
  readonly begun: boolean;
}

function words(error: unknown): string {
  return error instanceof Error ? error.message : String(error);
}

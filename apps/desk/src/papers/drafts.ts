import { newToken } from "../token.ts";

/** Papers that somebody looks at before they are issued; only the newest are kept, and only until the desk stops. */
export interface Drafts {
  readonly put: (html: string, by: string) => string;
  /** null: not there any more, or somebody else's. */
  readonly get: (id: string, by: string) => string | null;
}

const MOST = 30;
/** Characters of all together; one with many photos has some ten million. */
const MOST_CHARACTERS = 60e6;

export function drafts(): Drafts {
  const kept = new Map<string, { readonly html: string; readonly by: string }>();
  return {
    put: (html, by) => {
      const id = newToken();
      kept.set(id, { html, by });
      let characters = [...kept.values()].reduce((sum, one) => sum + one.html.length, 0);
      for (const [oldest, { html: text }] of kept) {
        if (oldest === id || (kept.size <= MOST && characters <= MOST_CHARACTERS)) break;
        kept.delete(oldest);
        characters -= text.length;
      }
      return id;
    },
    get: (id, by) => {
      const draft = kept.get(id);
      return draft?.by === by ? draft.html : null;
    },
  };
}

import { newToken } from "../token.ts";

/** Papers that somebody looks at before they are issued; only the newest are kept, and only until the desk stops. */
export interface Drafts {
  readonly put: (html: string, by: string) => string;
  /** null: not there any more, or somebody else's. */
  readonly get: (id: string, by: string) => string | null;
}

const MOST = 30;

export function drafts(): Drafts {
  const kept = new Map<string, { readonly html: string; readonly by: string }>();
  return {
    put: (html, by) => {
      const id = newToken();
      kept.set(id, { html, by });
      for (const oldest of kept.keys()) {
        if (kept.size <= MOST) break;
        kept.delete(oldest);
      }
      return id;
    },
    get: (id, by) => {
      const draft = kept.get(id);
      return draft?.by === by ? draft.html : null;
    },
  };
}

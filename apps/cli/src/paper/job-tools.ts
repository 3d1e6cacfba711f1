import { type JobResult, type JobTools, type PaperJob, runJob, type Typesetter } from "@earthbell/papers";
import { FolderUnusable } from "./folder-unusable.ts";
import { openIssueFolder } from "./issue-folder.ts";
import { photoTools } from "./photo-tools.ts";
import { sha256 } from "./sha256.ts";
import { signerOf } from "./signing-key.ts";
import { NoTypesetter, openTypesetter } from "./typesetter.ts";

/** The disk, the compiler and the keys of this computer. The compiler is loaded once, and only when a PDF is wanted. */
export function jobTools(): JobTools {
  let typesetter: Promise<Typesetter | { readonly missing: string }> | undefined;
  return {
    openFolder: (path) => openIssueFolder(path, sha256),
    typesetter: () => (typesetter ??= openTypesetter().catch(missing)),
    photos: photoTools,
    digest: sha256,
    digestOfBytes: sha256,
    signerOf,
  };
}

/** Makes papers with these tools; a folder in which they cannot be kept is a fault like any other. */
export function paperMaker(): (job: PaperJob) => Promise<JobResult> {
  const tools = jobTools();
  return async (job) => {
    try {
      return await runJob(job, tools);
    } catch (error) {
      if (error instanceof FolderUnusable) return { ok: false, faults: [error.fault] };
      throw error;
    }
  };
}

function missing(error: unknown): { readonly missing: string } {
  if (error instanceof NoTypesetter) return { missing: error.message };
  throw error;
}

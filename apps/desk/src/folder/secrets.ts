import { readFileSync } from "node:fs";
import { resolve } from "node:path";
import { reasonOf } from "./desk-folder.ts";
import { FolderFault } from "./folder-fault.ts";

/** Where a secret is to be read from: a variable, or a file beside the settings. */
interface SecretSource {
  readonly env?: string;
  readonly file?: string;
}

/** Reads secrets once, when the desk starts. */
export type Secrets = (source: SecretSource) => string;

/** @returns a reader that throws FolderFault DESK_SECRET_MISSING */
export function secretsOf(
  folder: string,
  environment: Readonly<Record<string, string | undefined>>,
): Secrets {
  return ({ env, file }) => {
    if (env !== undefined) {
      const value = environment[env];
      if (value !== undefined && value !== "") return value;
      throw new FolderFault("DESK_SECRET_MISSING", `The variable ${env} is not set.`);
    }
    const path = resolve(folder, file ?? "");
    let text: string;
    try {
      text = readFileSync(path, "utf8").trim();
    } catch (error) {
      throw new FolderFault("DESK_SECRET_MISSING", `${path}: ${reasonOf(error)}.`);
    }
    if (text === "") throw new FolderFault("DESK_SECRET_MISSING", `${path} is empty.`);
    return text;
  };
}

/** The text of a file that the settings name, from the folder on. @throws FolderFault DESK_FOLDER_UNUSABLE */
export function fileBeside(folder: string, file: string): string {
  const path = resolve(folder, file);
  try {
    return readFileSync(path, "utf8");
  } catch (error) {
    throw new FolderFault("DESK_FOLDER_UNUSABLE", `${path}: ${reasonOf(error)}.`);
  }
}

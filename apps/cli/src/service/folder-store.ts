import type { Call } from "../command.ts";
import { type ExitStatus, exitStatus } from "../exit-status.ts";
import type { Option } from "../command-line/option.ts";
import { usageText } from "../command-line/usage-text.ts";
import { faultsText } from "../views/faults-text.ts";
import { withDesk } from "./service-fault.ts";

type Desk = typeof import("@earthbell/desk");
type Store = Awaited<ReturnType<Desk["openStore"]>>;

/** Where the store was found. */
interface Found {
  readonly folder: string;
  readonly place: ReturnType<Desk["storePlaceOf"]>;
}

export const dataOption: Option = {
  name: "data",
  value: "DIR",
  help: "the folder of the desk, with desk.yaml",
};

/** The folder that `--data` names; null after its absence has been told. */
export async function folderAsked(call: Call, command: string): Promise<string | null> {
  const data = call.arguments.value("data");
  if (data !== undefined) return data;
  const message = "Name the folder of the desk with --data DIR.";
  const fault = {
    code: "COMMAND_VALUE_MISSING",
    message,
    suggestions: ["--data DIR"],
    lead: "example",
  } as const;
  await call.complain(usageText([fault], `earthbell help ${command}`, call.page));
  return null;
}

/** Opens the store of a desk's folder, beside the desk if one runs. */
export async function withFolderStore(
  call: Call,
  command: string,
  work: (store: Store, desk: Desk, found: Found) => Promise<ExitStatus>,
): Promise<ExitStatus> {
  const folder = await folderAsked(call, command);
  if (folder === null) return exitStatus.wrongInput;
  return withDesk(call, async (desk) => {
    const read = await desk.readSettings(desk.deskFolder(folder));
    if (!read.ok) {
      await call.complain(faultsText(read.faults, call.page));
      return exitStatus.wrongInput;
    }
    const secrets = desk.secretsOf(folder, call.world.environment);
    const place = desk.storePlaceOf({ settings: read.settings, folder, secrets });
    const store = await desk.openStore(place);
    try {
      return await work(store, desk, { folder, place });
    } finally {
      await store.close();
    }
  });
}

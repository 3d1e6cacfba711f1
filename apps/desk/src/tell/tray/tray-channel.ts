import { createHash } from "node:crypto";
import { rename, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { makeFolders } from "../../folder/make-folders.ts";
import type { Hear } from "../conversation.ts";
import type { Channel, ChannelKind, Envelope, SendOutcome } from "../channel.ts";

export interface TrayOptions {
  readonly folder: string;
  /** The channel that it stands in for. */
  readonly kind: ChannelKind;
  /** Called with each message that was laid down. */
  readonly laid?: (envelope: Envelope, file: string) => void;
}

/**
 * For rehearsals and demonstrations: messages are laid into a folder, one text file each, and go nowhere. A duplicate of a
 * message lands on the same file.
 */
export function trayChannel({ folder, kind, laid }: TrayOptions): Channel {
  return {
    kind,
    async send(envelope: Envelope, _signal?: AbortSignal, hear?: Hear): Promise<SendOutcome> {
      const file = join(folder, fileName(envelope));
      try {
        await makeFolders(folder);
        await writeFile(`${file}.part`, textOf(envelope));
        await rename(`${file}.part`, file);
      } catch (error) {
        return { outcome: "later", reason: error instanceof Error ? error.message : String(error) };
      }
      laid?.(envelope, file);
      hear?.({ by: "note", text: "Laid into the tray: the settings rehearse this way, and nothing leaves." });
      return { outcome: "accepted", reply: "laid into the tray, sent to nobody" };
    },
    close: () => Promise.resolve(),
  };
}

function fileName({ writtenAt, site, kind, key }: Envelope): string {
  const instant = new Date(writtenAt).toISOString().replace(/[:.]/gu, "-");
  const digest = createHash("sha256").update(key).digest("hex").slice(0, 10);
  const plain = site.replace(/[^\w-]/gu, "_").slice(0, 40);
  return `${instant}-${plain}-${kind}-${digest}.txt`;
}

function textOf({ channel, address, person, subject, text }: Envelope): string {
  return `Way: ${channel}\nTo: ${person} <${address}>\nSubject: ${subject}\n\n${text}\n`;
}

import type { MqttClient, Packet } from "mqtt";
import type { Hear } from "../conversation.ts";
import { oneLine } from "../words/one-line.ts";

/** Fields of packets that are worth reading, by their names in the library. */
interface Read {
  readonly cmd: string;
  readonly clientId?: string;
  readonly username?: string;
  readonly password?: unknown;
  readonly reasonCode?: number;
  readonly returnCode?: number;
  readonly topic?: string;
  readonly qos?: number;
  readonly retain?: boolean;
  readonly payload?: string | Uint8Array;
}

/** Tells what goes over a connection, packet by packet; of a password only that there is one. */
export function hearPackets(client: MqttClient, hear: Hear): void {
  client.on("packetsend", (packet: Packet) => {
    hear({ by: "desk", text: wordsOf(packet) });
  });
  client.on("packetreceive", (packet: Packet) => {
    hear({ by: "other-side", text: wordsOf(packet) });
  });
}

function wordsOf(packet: Read): string {
  const { cmd, clientId, username, password, reasonCode, returnCode, topic, qos, retain, payload } = packet;
  const reason = reasonCode ?? returnCode;
  const words = [
    cmd.toUpperCase(),
    clientId === undefined ? null : `client ${clientId}`,
    username === undefined ? null : `user ${username}`,
    password === undefined ? null : "password (sent, not shown)",
    ...(cmd === "publish"
      ? [`topic ${topic!}`, `QoS ${qos!}${retain === true ? ", retained" : ""}`, `payload ${String(payload)}`]
      : []),
    reason === undefined ? null : `reason ${reason}`,
  ];
  return oneLine(words.filter((word) => word !== null).join(", "), 500);
}

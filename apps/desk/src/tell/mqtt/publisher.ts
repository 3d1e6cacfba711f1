import type { MqttClient } from "mqtt";

/** Publishes, and says what the broker answered: the library keeps the reason of an acknowledgement to itself. */
export class Publisher {
  /** Reasons of acknowledgements that are not fetched yet, by the number of the packet. */
  private readonly reasons = new Map<number, number>();

  constructor(private readonly client: MqttClient) {
    client.on("packetreceive", (packet) => {
      if (packet.cmd === "puback" && packet.messageId !== undefined)
        this.reasons.set(packet.messageId, packet.reasonCode ?? 0);
    });
    client.on("close", () => {
      this.reasons.clear();
    });
  }

  /** @returns the reason code of the broker; a refusal is a result here and not an error */
  async publish(topic: string, payload: string, how: { readonly retain: boolean }): Promise<number> {
    try {
      const packet = await this.client.publishAsync(topic, payload, { qos: 1, ...how });
      return this.fetch(packet?.messageId);
    } catch (error) {
      const { code } = error as { readonly code?: unknown };
      if (typeof code === "number") return code;
      throw error;
    }
  }

  private fetch(messageId: number | undefined): number {
    if (messageId === undefined) return 0;
    const reason = this.reasons.get(messageId) ?? 0;
    this.reasons.delete(messageId);
    return reason;
  }
}

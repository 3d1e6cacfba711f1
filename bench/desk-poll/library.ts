import { setTimeout as sleep } from "node:timers/promises";
import ModbusRTU from "modbus-serial";
import type { FleetGateway } from "../../apps/desk/src/fleet/index.ts";
import type { ReadsByPort } from "./listener.ts";
import { type Measured, measureWindow } from "./measured.ts";

/** The library's client reads the same registers at the same pace; the answers are dropped. */
export async function measureLibrary(
  gateways: readonly FleetGateway[],
  reads: ReadsByPort,
  everyMs: number,
  windowMs: number,
): Promise<Measured> {
  let running = true;
  let requests = 0;
  const clients: ModbusRTU[] = [];
  const poll = async ({ host, port }: FleetGateway): Promise<void> => {
    const client = new ModbusRTU();
    clients.push(client);
    await sleep(everyMs * Math.random());
    await client.connectTCP(host, { port });
    client.setID(1);
    client.setTimeout(5000);
    const { address, count } = reads.get(port)!;
    while (running) {
      requests += 1;
      await client.readHoldingRegisters(address, count);
      await sleep(everyMs);
    }
  };
  for (const gateway of gateways)
    poll(gateway).catch((error: unknown) => {
      if (running) console.error(String(error));
    });
  // Until every one of them has begun.
  await sleep(everyMs + 1000);
  const measured = await measureWindow(windowMs, () => requests);
  running = false;
  for (const client of clients) client.destroy(() => undefined);
  return measured;
}

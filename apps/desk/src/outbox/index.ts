export { createOutboxWorker, type OutboxWorker } from "./worker.ts";

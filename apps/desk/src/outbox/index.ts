export { type Bell, createBell } from "./bell.ts";
export { createOutboxWorker, type OutboxWorker } from "./worker.ts";

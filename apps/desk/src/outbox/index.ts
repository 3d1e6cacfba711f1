export { createOutboxWorker, type OutboxStep, type OutboxWorker, type WorkerOptions } from "./worker.ts";

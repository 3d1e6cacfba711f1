import cookie from "@fastify/cookie";
import helmet from "@fastify/helmet";
import rateLimit from "@fastify/rate-limit";
import swagger from "@fastify/swagger";
import fastify, { type FastifyInstance } from "fastify";
import type { DeskParts } from "./desk-parts.ts";
import { faultBody, RequestFault, requestFaultOf } from "./request-fault.ts";
import { acknowledgePage } from "./routes/acknowledge-page.ts";
import { alarmRoutes } from "./routes/alarms.ts";
import { calendarRoutes } from "./routes/calendar.ts";
import { caseLineRoute } from "./routes/case-lines.ts";
import { caseRoutes } from "./routes/cases.ts";
import { demonstrationRoute } from "./routes/demonstration.ts";
import { drillRoutes } from "./routes/drills.ts";
import { healthRoutes } from "./routes/health.ts";
import { historyRoutes } from "./routes/history.ts";
import { liveRoute, sayJournal } from "./routes/live.ts";
import { nowRoute } from "./routes/now.ts";
import { outboxRoutes } from "./routes/outbox.ts";
import { paperMakingRoutes } from "./routes/paper-making.ts";
import { paperRoutes } from "./routes/papers.ts";
import { journalRoutes } from "./routes/journal.ts";
import { ownerLinkRoutes } from "./routes/owner-links.ts";
import { registerTableRoutes } from "./routes/register-table.ts";
import { rulesRoute } from "./routes/rules.ts";
import { settingsRoutes } from "./routes/settings.ts";
import { passkeyRoutes } from "./routes/passkeys.ts";
import { pathWatchRoutes } from "./routes/path-watches.ts";
import { peopleRoutes } from "./routes/people.ts";
import { pushRoutes } from "./routes/push.ts";
import { signInRoutes } from "./routes/sign-in.ts";
import { siteNamesRoute } from "./routes/site-names.ts";
import { insulationTestsRoute } from "./routes/insulation-tests.ts";
import { siteRoutes } from "./routes/sites.ts";
import { toldPeopleRoutes } from "./routes/told-people.ts";
import { tableRoutes } from "./routes/tables.ts";
import { visitRoutes } from "./routes/visits.ts";
import { serveWeb, slimParts } from "./serve-web.ts";
import { checkByZod, describedSchema } from "./zod-schemas.ts";

/** Requests of one sender in a minute; a gateway that pushes each second stays below it. */
const REQUESTS_A_MINUTE = 600;
const MOST_BYTES = 4 * 2 ** 20;
/** The desk itself tries its store again sooner. */
const RETRY_AFTER_S = 10;

const ROUTES = [
  healthRoutes,
  pushRoutes,
  signInRoutes,
  passkeyRoutes,
  peopleRoutes,
  toldPeopleRoutes,
  siteRoutes,
  insulationTestsRoute,
  siteNamesRoute,
  nowRoute,
  tableRoutes,
  historyRoutes,
  registerTableRoutes,
  paperRoutes,
  paperMakingRoutes,
  calendarRoutes,
  caseRoutes,
  caseLineRoute,
  alarmRoutes,
  drillRoutes,
  pathWatchRoutes,
  visitRoutes,
  outboxRoutes,
  settingsRoutes,
  rulesRoute,
  demonstrationRoute,
  journalRoutes,
  ownerLinkRoutes,
  liveRoute,
  acknowledgePage,
];

/** The desk's HTTP side: its state, its interface for programs, and the page behind an acknowledgement link. */
export async function buildServer(parts: DeskParts): Promise<FastifyInstance> {
  const app = fastify({
    logger: false,
    bodyLimit: MOST_BYTES,
    requestTimeout: 60_000,
    trustProxy: parts.behindProxy,
    routerOptions: { maxParamLength: 300 },
  });
  checkByZod(app);
  app.setErrorHandler((error: Error & { readonly statusCode?: number }, request, reply) => {
    const fault = requestFaultOf(error) ?? notStored(error, parts, request.url);
    if (fault.code === "REQUEST_NOT_STORED") reply.header("retry-after", RETRY_AFTER_S);
    return reply.status(fault.statusCode).send(faultBody(fault));
  });
  slimParts(app);
  await addPlugins(app, parts);
  sayJournal(app, parts);
  for (const routes of ROUTES)
    await app.register((scope, _, done) => {
      routes(scope, parts);
      done();
    });
  app.get("/openapi.json", { schema: { hide: true } }, () => app.swagger());
  await serveWeb(app, parts.webFolder);
  return app;
}

async function addPlugins(app: FastifyInstance, parts: DeskParts): Promise<void> {
  const { version, requestsPerMinute = REQUESTS_A_MINUTE } = parts;
  await app.register(helmet, { contentSecurityPolicy: { directives: policy } });
  await app.register(cookie);
  await app.register(rateLimit, { max: requestsPerMinute, timeWindow: "1 minute" });
  await app.register(swagger, {
    openapi: {
      info: {
        title: "Earthbell desk",
        version,
        description:
          "Readings in, alarms and cases out. Requests that change something may carry Idempotency-Key: sent twice with the same key they are carried out once.",
      },
      components: { securitySchemes: { token: { type: "http", scheme: "bearer" } } },
      security: [{ token: [] }],
    },
    transform: ({ schema, url }) => ({ schema: describedSchema(schema), url }),
  });
}

/** No script, frame or form of another origin; nothing inline. */
const policy = {
  defaultSrc: ["'self'"],
  scriptSrc: ["'self'"],
  styleSrc: ["'self'"],
  imgSrc: ["'self'", "data:", "blob:"],
  connectSrc: ["'self'"],
  formAction: ["'self'"],
  frameAncestors: ["'none'"],
  objectSrc: ["'none'"],
  upgradeInsecureRequests: null,
};

/** Anything else is the desk's own trouble: told in the log whole, and to the sender only that nothing was taken in. */
function notStored(error: Error, { log, store }: DeskParts, url: string): RequestFault {
  log.error({ error: error.message, stack: error.stack, url: url.split("?")[0] }, "a request failed");
  return new RequestFault(
    "REQUEST_NOT_STORED",
    `${store.trouble()?.text ?? "It could not be stored."} Nothing was taken in. Send it again with the same idempotency key.`,
  );
}

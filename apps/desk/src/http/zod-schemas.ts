import type { FastifyInstance, FastifySchema } from "fastify";
import * as z from "zod";
import { RequestFault } from "./request-fault.ts";

/** Schemas of a route in the library that checks files too; the OpenAPI description is made from the same ones. */
export interface RouteSchemas {
  readonly summary: string;
  readonly tag: string;
  readonly params?: z.ZodType;
  readonly query?: z.ZodType;
  readonly body?: z.ZodType;
  readonly answer: z.ZodType;
  /** Media type of the body where it is not JSON. */
  readonly consumes?: string;
  /** Who may ask; stands in the description. */
  readonly open?: true;
}

/** Schemas as the server takes them. Answers are described and not checked: they are typed where they are made. */
export function schemasOf({
  summary,
  tag,
  params,
  query,
  body,
  answer,
  consumes,
  open,
}: RouteSchemas): FastifySchema {
  return {
    summary,
    tags: [tag],
    ...(open ? { security: [] } : {}),
    ...(params === undefined ? {} : { params }),
    ...(query === undefined ? {} : { querystring: query }),
    ...(body === undefined ? {} : { body }),
    ...(consumes === undefined ? {} : { consumes: [consumes] }),
    response: { 200: answer },
  };
}

/** Checks requests by the schemas and reports every field at fault at once. */
export function checkByZod(app: FastifyInstance): void {
  app.setValidatorCompiler<z.ZodType>(({ schema, httpPart }) => (data: unknown) => {
    const result = schema.safeParse(data);
    if (result.success) return { value: result.data };
    const fields = result.error.issues.map(({ path, message }) => ({
      field: [httpPart, ...path].filter((step) => step !== undefined).join("."),
      message,
    }));
    const text = `The request does not have the form that is asked for: ${fields.map(({ field }) => field).join(", ")}.`;
    return { error: new RequestFault("REQUEST_BODY_INVALID", text, fields) };
  });
  app.setSerializerCompiler(() => (data) => JSON.stringify(data));
}

/** The schemas of a route as JSON Schema, for the OpenAPI description. */
export function describedSchema(schema: FastifySchema): FastifySchema {
  const json = (part: unknown): unknown => {
    if (!(part instanceof z.ZodType)) return part;
    const { $schema: _, ...rest } = z.toJSONSchema(part, { io: "input", unrepresentable: "any" });
    return rest;
  };
  const response = schema.response as Readonly<Record<string, unknown>> | undefined;
  return {
    ...schema,
    ...(schema.params === undefined ? {} : { params: json(schema.params) }),
    ...(schema.querystring === undefined ? {} : { querystring: json(schema.querystring) }),
    ...(schema.body === undefined ? {} : { body: json(schema.body) }),
    ...(response === undefined
      ? {}
      : {
          response: Object.fromEntries(
            Object.entries(response).map(([status, part]) => [status, json(part)]),
          ),
        }),
  };
}

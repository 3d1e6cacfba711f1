import * as z from "zod";
import { adviceFile } from "./advice/advice-file.ts";
import { commissioningFile } from "./commissioning/commissioning-file.ts";
import { deskFile } from "./desk/desk-file.ts";
import { itemSchema } from "./fields/list-field.ts";
import { ruleOverridesFile } from "./rule-overrides/rule-overrides-file.ts";
import { rulePackFile } from "./rule-pack/rule-pack-file.ts";
import { settingSheetFile } from "./setting-sheet/setting-sheet-file.ts";
import { siteFile } from "./site/site-file.ts";
import { visitFile } from "./visit/visit-file.ts";

/** A JSON Schema (draft 2020-12) as plain data, for editors: it offers field names and marks slips while typing. */
export type JsonSchema = Readonly<Record<string, unknown>>;

/**
 * The shape of a site file. It is looser than `readSite`: the sizes of quantities and the references between fields are
 * not in it.
 */
export function siteJsonSchema(): JsonSchema {
  return { ...jsonSchemaOf(siteFile), title: "Earthbell site" };
}

/** The shape of a visit file, as loosely. */
export function visitJsonSchema(): JsonSchema {
  return { ...jsonSchemaOf(visitFile), title: "Earthbell visit" };
}

/** The shape of a file of answers, as loosely. */
export function adviceJsonSchema(): JsonSchema {
  return { ...jsonSchemaOf(adviceFile), title: "Earthbell answers for advice" };
}

/** The shape of a desk's settings, as loosely. */
export function deskJsonSchema(): JsonSchema {
  return { ...jsonSchemaOf(deskFile), title: "Earthbell desk settings" };
}

/** The shape of a rule pack. */
export function rulePackJsonSchema(): JsonSchema {
  return { ...jsonSchemaOf(rulePackFile), title: "Earthbell rule pack" };
}

/** The shape of overrides of rule values; which packs and values there are is the packs' to say. */
export function ruleOverridesJsonSchema(): JsonSchema {
  return { ...jsonSchemaOf(ruleOverridesFile), title: "Earthbell rule overrides" };
}

/** The shape of the results of a commissioning; which steps and lines there are is the site's to say. */
export function commissioningJsonSchema(): JsonSchema {
  return { ...jsonSchemaOf(commissioningFile), title: "Earthbell commissioning results" };
}

/** The shape of a setting sheet. */
export function settingSheetJsonSchema(): JsonSchema {
  return { ...jsonSchemaOf(settingSheetFile), title: "Earthbell setting sheet" };
}

function jsonSchemaOf(schema: z.ZodType): z.core.JSONSchema.BaseSchema {
  return z.toJSONSchema(schema, {
    io: "input",
    target: "draft-2020-12",
    override: ({ zodSchema, jsonSchema }) => {
      const item = itemSchema(zodSchema);
      if (item) jsonSchema.items = withoutDialect(jsonSchemaOf(item));
      // A quantity that needs its unit accepts numbers only in order to say so.
      if (jsonSchema.anyOf && jsonSchema.type === "string") delete jsonSchema.anyOf;
    },
  });
}

/** Only the outermost schema names its dialect. */
function withoutDialect(schema: z.core.JSONSchema.BaseSchema): z.core.JSONSchema.BaseSchema {
  return Object.fromEntries(Object.entries(schema).filter(([key]) => key !== "$schema"));
}

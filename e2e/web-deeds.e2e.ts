import { expect, it } from "vitest";
import { MATRIX } from "../apps/desk/src/http/access-matrix.fixture.ts";
import { type Deed, does } from "../apps/web/src/desk/deeds.ts";

/** What a person asks of the desk to do such a thing; the step of a case where the address alone does not tell. */
const ASKED: Readonly<Record<Deed, readonly [route: string, step?: string]>> = {
  answer: ["POST /api/cases/:id/steps", "acknowledge"],
  "work-case": ["POST /api/cases/:id/steps", "remark"],
  "close-case": ["POST /api/cases/:id/steps", "close"],
  drill: ["POST /api/sites/:site/paths/:path/drills"],
  "override-rules": ["POST /api/rules/overrides"],
};
const ROLES = ["service", "technician", "installer", "owner"] as const;

// The matrix itself is proven against the running server by the desk's own tests.
it.each(Object.entries(ASKED) as [Deed, readonly [string, string?]][])(
  "the page lets the same roles do %s as the desk",
  (deed, [route, step]) => {
    const asked = MATRIX.filter(
      (one) =>
        one.route === route && (step === undefined || (one.body as { readonly step?: string }).step === step),
    );
    expect(asked).toHaveLength(1);
    expect(ROLES.filter((role) => does(role, deed))).toEqual(
      ROLES.filter((role) => asked[0]!.may.includes(role)),
    );
  },
);

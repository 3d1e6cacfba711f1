import type { Page } from "@playwright/test";
import type { DeskProcess } from "../../e2e/desk-process.ts";

/** Makes the first account of the desk in this browser, which is signed in by that. */
export async function signIn(page: Page, desk: DeskProcess): Promise<void> {
  await page.goto(desk.url);
  const said = await page.evaluate<number>(`(async () => {
    const response = await fetch(${JSON.stringify(desk.joinUrl.replace("/join/", "/api/join/"))}, {
      method: "POST",
      headers: { "content-type": "application/json", "x-earthbell-request": "1" },
      body: JSON.stringify({ name: "Ann Lee", password: "a long word for a bench" }),
    });
    localStorage.setItem("earthbell:signed-in", "yes");
    return response.status;
  })()`);
  if (said >= 300) throw new Error(`The desk refused the account: ${said}`);
}

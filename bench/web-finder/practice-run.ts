import type { Page } from "@playwright/test";

export interface PracticeRun {
  readonly exercise: number;
  /** Presses, ticks and choices from the first page to the verdict. */
  readonly interactions: number;
  readonly steps: number;
  readonly verdict: string;
}

const MOST_STEPS = 12;

/** Goes from the first page to a located place in a practice array, taking the step that the page proposes each time. */
export async function practiceRun(page: Page, address: string, exercise: number): Promise<PracticeRun> {
  let interactions = 0;
  const press = async (work: Promise<void>): Promise<void> => {
    interactions += 1;
    await work;
  };
  await page.goto(address);
  await press(page.getByRole("link", { name: "Learn" }).first().click());
  await press(page.locator("main ol > li").nth(exercise).getByRole("button").first().click());
  const step = page.getByRole("region", { name: "Next step" });
  const verdict = page.locator(".verdict");
  let steps = 0;
  for (; steps < MOST_STEPS; steps++) {
    await step.getByRole("heading").first().waitFor();
    const read = step.getByRole("button", { name: "I have read these" });
    const answer = step.getByRole("button", { name: "Let the practice array answer" });
    if ((await verdict.count()) > 0 && /Located|More than one|No fault/u.test(await verdict.innerText()))
      break;
    if ((await read.or(answer).or(step.getByRole("checkbox").first()).count()) === 0) break;
    if ((await read.count()) > 0) await press(read.click());
    await step.getByRole("checkbox").first().or(answer).first().waitFor();
    for (const box of await step.getByRole("checkbox").all())
      if (!(await box.isChecked())) await press(box.check());
    const before = await page.getByRole("button", { name: /^Take away reading/u }).count();
    await press(answer.click());
    await page.getByRole("button", { name: `Take away reading ${before + 1}` }).waitFor();
    await page.locator("[aria-busy=false] .verdict").waitFor();
  }
  return { exercise: exercise + 1, interactions, steps, verdict: await verdict.locator(".lead").innerText() };
}

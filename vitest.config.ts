import { defineConfig } from "vitest/config";

export default defineConfig({
  test: {
    projects: [
      {
        test: {
          name: "unit",
          // A loaded machine is slow; no unit test waits for anything.
          testTimeout: 60_000,
          include: ["packages/**/*.test.ts", "apps/**/*.test.ts", "apps/**/*.test.tsx", "tools/**/*.test.ts"],
          environment: "node",
        },
      },
      {
        test: {
          name: "checks",
          include: ["checks/**/*.check.ts"],
          environment: "node",
          testTimeout: 120_000,
          hookTimeout: 120_000,
        },
      },
      {
        test: {
          name: "e2e",
          include: ["e2e/**/*.e2e.ts"],
          globalSetup: ["e2e/build-once.ts"],
          environment: "node",
          // A browser on a busy machine can stall; a second try is named in what `npm test` prints, never silent.
          retry: 1,
          testTimeout: 180_000,
          hookTimeout: 120_000,
        },
      },
    ],
  },
});

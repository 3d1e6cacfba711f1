import tseslint from "typescript-eslint";

/** Lint is type-aware and strict; each switched-off rule says why. */
export default tseslint.config(
  {
    ignores: [
      "**/dist/**",
      "**/node_modules/**",
      "**/coverage/**",
      "tools/**/*.mjs",
      "**/*.cjs",
      "eslint.config.mjs",
    ],
  },
  ...tseslint.configs.strictTypeChecked,
  {
    languageOptions: { parserOptions: { projectService: true } },
    linterOptions: { reportUnusedDisableDirectives: "error" },
    rules: {
      "max-lines": ["error", { max: 300, skipBlankLines: false, skipComments: false }],
      "max-lines-per-function": ["error", { max: 50, skipBlankLines: true, skipComments: true }],
      // Numbers in messages are the point of this program.
      "@typescript-eslint/restrict-template-expressions": ["error", { allowNumber: true }],
      // Taking a field off a record is how a record without it is made.
      "@typescript-eslint/no-unused-vars": ["error", { ignoreRestSiblings: true }],
      // Numeric kernels index typed arrays inside proven bounds; `!` says so without a branch.
      "@typescript-eslint/no-non-null-assertion": "off",
    },
  },
  {
    // Pure packages: no clock, no random, no environment. They arrive as arguments (docs/architecture.md).
    files: ["packages/*/src/**/*.ts"],
    ignores: ["**/*.test.ts"],
    rules: {
      "no-restricted-globals": [
        "error",
        { name: "process", message: "packages/ are pure: take it as an argument" },
        { name: "fetch", message: "packages/ are pure: take it as an argument" },
        { name: "setTimeout", message: "packages/ are pure: inject a clock" },
        { name: "setInterval", message: "packages/ are pure: inject a clock" },
      ],
      "no-restricted-properties": [
        "error",
        {
          object: "Math",
          property: "random",
          message: "packages/ are pure: take a seeded generator as an argument",
        },
        { object: "Date", property: "now", message: "packages/ are pure: take the instant as an argument" },
        { object: "performance", property: "now", message: "packages/ are pure: measure in bench/" },
      ],
    },
  },
  {
    // A route is a declaration: its schemas and its answer beside its address read better in one piece.
    files: ["apps/desk/src/http/routes/*.ts"],
    rules: {
      "max-lines-per-function": ["error", { max: 95, skipBlankLines: true, skipComments: true }],
    },
  },
  {
    // A component is mostly its markup, and that reads better in one piece.
    files: ["apps/web/src/**/*.tsx"],
    rules: {
      "max-lines-per-function": ["error", { max: 80, skipBlankLines: true, skipComments: true }],
    },
  },
  {
    // Tables of cases read better in one piece.
    files: ["**/*.test.ts", "**/*.test.tsx", "**/*.check.ts", "**/*.bench.ts", "**/*.e2e.ts"],
    rules: { "max-lines-per-function": "off", "max-lines": ["error", { max: 500 }] },
  },
);

/** Dependencies point one way: engine <- model <- apps. Each rule says why. */
module.exports = {
  forbidden: [
    {
      name: "no-cycles",
      severity: "error",
      comment: "A cycle means two files are one concept; merge or split them.",
      from: {},
      to: { circular: true },
    },
    {
      name: "engine-stands-alone",
      severity: "error",
      comment: "The engine runs in the browser, on a phone, in tests: it imports nothing but itself.",
      from: { path: "^packages/engine/src", pathNot: "\\.(test|fixture)\\.ts$" },
      to: { pathNot: "^packages/engine/src" },
    },
    {
      name: "model-knows-engine-only",
      severity: "error",
      comment: "Files and records sit on the engine and on the YAML and schema libraries; no app, no Node.",
      from: { path: "^packages/model/src", pathNot: "\\.(test|fixture)\\.ts$" },
      to: { path: "^(apps|node:|packages/(?!engine|model))" },
    },
    {
      name: "packages-are-pure",
      severity: "error",
      comment: "Disk, network and clock belong to apps/; packages take them as arguments.",
      from: { path: "^packages/", pathNot: "\\.(test|fixture)\\.ts$" },
      to: { dependencyTypes: ["core"] },
    },
    {
      name: "apps-never-import-apps",
      severity: "error",
      comment: "Apps meet over HTTP or over files, never by import.",
      // The command line starts the service: docs/decisions/0008.
      from: { path: "^apps/([^/]+)/", pathNot: "^apps/cli/src/service/" },
      to: { path: "^apps/", pathNot: "^apps/$1/" },
    },
    {
      name: "through-the-door",
      severity: "error",
      comment: "Another package is entered by its index, so that its inside can move.",
      from: { path: "^(packages|apps)/([^/]+)/" },
      to: { path: "^packages/[^/]+/src/(?!index\\.ts$)", pathNot: "^packages/$2/" },
    },
  ],
  options: {
    tsConfig: { fileName: "tsconfig.json" },
    tsPreCompilationDeps: true,
    doNotFollow: { path: "node_modules" },
    enhancedResolveOptions: { exportsFields: ["exports"], conditionNames: ["import", "types", "default"] },
  },
};

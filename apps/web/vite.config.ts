import react from "@vitejs/plugin-react";
import { defineConfig } from "vite";
import { VitePWA } from "vite-plugin-pwa";

/**
 * The packages are pure, so what a page does not use of them is left out, with the libraries that only it needed (one of them
 * wants Node).
 */
const treeshake = { moduleSideEffects: (id: string) => !/\/packages\/|\/csv-parse\//u.test(id) };

/**
 * What the first page needs comes in one file, and so do the small parts that many pages share, what this device keeps and works
 * out itself, and what the note of a source needs: a browser waits longer for ten small files than it reads them. What such a
 * part needs itself stays where it is: rule packs and cautions would come along.
 */
const SHARED = [
  { name: "earthbell", tags: ["$initial" as const], priority: 3 },
  {
    name: "sources",
    test: /[\\/](?:source-note|overrid(?:e|able)-values)\./u,
    minShareCount: 3,
    priority: 2,
  },
  {
    name: "kept",
    test: /[\\/](?:web[\\/]src[\\/](?:keep|engine|desk[\\/](?:remote-desk|shared-desk))|visit-entries|idb)[\\/.]/u,
    minShareCount: 3,
    maxModuleSize: 20_000,
    priority: 2,
  },
  {
    name: "parts",
    test: /[\\/]web[\\/]src[\\/](?:page|drawing|desk)[\\/](?!source-note)/u,
    minShareCount: 3,
    maxModuleSize: 4000,
    priority: 1,
  },
];

/** What is built is what is shipped, also where a test runner that has an environment of its own starts the build. */
if (process.argv.every((word) => word !== "dev")) process.env["NODE_ENV"] = "production";

/**
 * Built into dist/web beside the command. Every file is precached, so that the app opens on a roof without signal; the
 * service worker is registered by src/keep/offline.ts, because the page's policy forbids inline scripts.
 */
export default defineConfig({
  root: import.meta.dirname,
  publicDir: "public",
  build: {
    outDir: "../../dist/web",
    emptyOutDir: true,
    target: "es2023",
    assetsInlineLimit: 0,
    modulePreload: { polyfill: false },
    // All of it is smaller than one font, and a sheet that comes with its page holds the whole screen up.
    cssCodeSplit: false,
    rolldownOptions: {
      treeshake,
      output: { codeSplitting: { groups: SHARED, includeDependenciesRecursively: false } },
    },
  },
  worker: { format: "es", rolldownOptions: { treeshake } },
  plugins: [
    react(),
    VitePWA({
      registerType: "prompt",
      injectRegister: false,
      workbox: {
        globPatterns: ["**/*.{js,css,html,svg,png,woff2,webmanifest}"],
        navigateFallback: "/index.html",
        // Pages of the desk itself: its interface, the page behind a link, its state.
        navigateFallbackDenylist: [/^\/(?:api|a)\//u, /^\/(?:healthz|metrics|openapi\.json)$/u],
        maximumFileSizeToCacheInBytes: 4_000_000,
        cleanupOutdatedCaches: true,
      },
      manifest: {
        name: "Earthbell",
        short_name: "Earthbell",
        description: "Earth-fault alarms of solar arrays: decide, prove, find, close. Works without signal.",
        start_url: "/",
        display: "standalone",
        orientation: "any",
        background_color: "#faf8f3",
        theme_color: "#faf8f3",
        icons: [{ src: "/earthbell.svg", sizes: "any", type: "image/svg+xml", purpose: "any" }],
        shortcuts: [{ name: "New visit", url: "/visits/new" }],
      },
    }),
  ],
});

// One bundle of script and one of style; names carry a hash, so that a browser may keep them for ever.
import { defineConfig } from "vite";

export default defineConfig({
  build: {
    manifest: true,
    assetsInlineLimit: 0,
    modulePreload: false,
    target: "es2022",
    rolldownOptions: { input: "src/main.ts" },
  },
});

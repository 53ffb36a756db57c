// One bundle of script and one of style; names carry a hash, so that a browser may keep them for ever.
import { type Plugin, defineConfig } from "vite";

// Leaflet's style names pictures of markers and layers that nothing here shows; without their names none is carried
// along. In a layer of the app's own, the app's rules stand over it.
const tameLeaflet: Plugin = {
  name: "tame-leaflet",
  enforce: "pre",
  transform: (code, id) =>
    id.includes("leaflet.css") ? `@layer parts {\n${code.replace(/url\([^)]*\)/g, "none")}\n}` : undefined,
};

export default defineConfig({
  plugins: [tameLeaflet],
  build: {
    manifest: true,
    assetsInlineLimit: 0,
    modulePreload: false,
    target: "es2022",
    rolldownOptions: { input: "src/main.ts" },
  },
});

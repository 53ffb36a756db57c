import tseslint from "typescript-eslint";

export default tseslint.config(
  { ignores: ["dist", "node_modules", "test-results", "playwright-report"] },
  {
    files: ["**/*.ts"],
    extends: [tseslint.configs.strictTypeChecked],
    languageOptions: { parserOptions: { projectService: true, tsconfigRootDir: import.meta.dirname } },
    rules: {
      // Numbers in sentences are what these pages are for.
      "@typescript-eslint/restrict-template-expressions": ["error", { allowNumber: true }],
      // The compiler asks for brackets on index signatures.
      "@typescript-eslint/dot-notation": "off",
    },
  },
);

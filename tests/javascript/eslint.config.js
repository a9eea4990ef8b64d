// What the page's JavaScript and its tests must keep to.

import js from "@eslint/js";
import globals from "globals";

const HERE = { languageOptions: { ecmaVersion: "latest", sourceType: "module" } };

export default [
  js.configs.recommended,
  {
    ...HERE,
    files: ["**/*.js"],
    languageOptions: { ...HERE.languageOptions, globals: { ...globals.browser, ...globals.node } },
    rules: {
      eqeqeq: "error",
      "no-var": "error",
      "prefer-const": "error",
      "no-implicit-globals": "error",
      "no-shadow": "error",
      "no-console": "error",
      "no-unused-vars": ["error", { argsIgnorePattern: "^_" }],
    },
  },
  { files: ["widgets/**/*.js"], rules: { "max-lines-per-function": ["error", 60] } }, // a function has one idea
];

// Svelte's own compiler options; runes everywhere, so that no file falls back to the older reactivity.
export default { compilerOptions: { runes: true } };

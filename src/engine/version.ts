/** Version of the engine, that of package.json (a test keeps them equal). Stands in reports and in keys of caches. */
export const engineVersion = '0.1.0';

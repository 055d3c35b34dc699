import manifest from '../../package.json' with { type: 'json' };

/** The version of the program, as every job records it. */
export const VERSION: string = manifest.version;

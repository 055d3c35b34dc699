import type { BuildOptions } from 'esbuild';

export const BUNDLE: BuildOptions;
export const PROGRAM: BuildOptions;
export const ALONE: RegExp;

#!/usr/bin/env node
import { processContext } from './commands/process-context.ts';
import { runProgram } from './commands/program.ts';

process.exitCode = await runProgram(process.argv.slice(2), processContext());

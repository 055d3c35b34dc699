import { processContext } from './commands/process-context.ts';
import { runProgram } from './commands/program.ts';

void runProgram(process.argv.slice(2), processContext()).then((code) => {
  process.exitCode = code;
});

import { top } from '../../source/screens/app/state.ts';
import type { Store } from '../../source/screens/app/store.ts';
import { keys, picture } from './drive.ts';
import { answersTo } from './typist.ts';

/** Leads the job that is open by keys, from whatever screen of it, until a step is in hand, or the job is closed. */
export function leadTo(store: Store, step: string | 'closed'): void {
  const press = (...labels: readonly string[]) => {
    for (const key of keys(...labels)) store.keys([key]);
  };
  for (let turn = 0; turn < 500; turn++) {
    const app = store.get();
    const screen = top(app);
    if (screen.kind === 'closed' && step === 'closed') return;
    if (screen.kind === 'challenge') press('2', 'enter');
    else if (screen.kind === 'diagnosis') press('enter');
    else if (screen.kind !== 'step') break;
    else if (screen.step === step) return;
    else if (screen.step === null) press('1', '1', 'enter', '1', 'enter');
    else {
      const open = app.job?.next.open.find((one) => one.id === screen.step);
      if (!open) break;
      press(...answersTo(open));
    }
  }
  throw new Error(`The job cannot be led on to ${step} from here:\n${picture(store)}`);
}

/** Says who is working, and leads the job to closed. */
export function leadToClosed(store: Store): void {
  startShift(store);
  leadTo(store, 'closed');
}

export function startShift(store: Store): void {
  for (const key of keys('1', ...'Nadia', 'enter', '2', 'enter', ...'0.3', 'enter')) store.keys([key]);
}

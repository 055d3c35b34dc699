import type { Journal } from '../../source/journal/journal.ts';
import { type JournalFiles, realSystem, type System } from '../../source/journal/system.ts';
import { PROOF } from '../scale.ts';
import { MemoryDisk } from './memory-disk.ts';

/** For checks of many states: on a busy machine, and in the proof, they take their time. */
export const PATIENCE = { timeout: PROOF ? 1_800_000 : 180_000 };

/** Clocks that a test sets by hand; every look at them takes a millisecond. */
export class Clocks {
  wall = Date.UTC(2026, 4, 4, 8, 0, 0);
  mono = 1_000;
  uptime = 5_000_000;
  boot = 'boot-1';

  /** Time that goes by for all of them. */
  pass(milliseconds: number): void {
    this.wall += milliseconds;
    this.mono += milliseconds;
    this.uptime += milliseconds;
  }
}

let systems = 0;

/** A system on a disk in memory, with clocks to set. Chance is drawn from fixed seeds, one after the other. */
export function fakeSystem(files: JournalFiles = new MemoryDisk(), clocks = new Clocks()): System {
  systems += 1;
  const random = seeded(systems);
  return {
    now: () => {
      clocks.pass(1);
      return new Date(clocks.wall);
    },
    monotonicMilliseconds: () => clocks.mono,
    uptimeMilliseconds: () => clocks.uptime,
    bootId: () => clocks.boot,
    pid: 4711,
    processStart: (pid) => (pid === 4711 ? null : String(pid)),
    host: 'shelf',
    machine: '5e1f5e1f5e1f5e1f',
    random: (bytes) => Uint8Array.from({ length: bytes }, () => Math.floor(random() * 256)),
    files,
  };
}

/** The real system on another disk. */
export function systemOn(files: JournalFiles): System {
  return { ...realSystem(), files };
}

/** A generator of chance with a fixed seed (mulberry32, public domain), from 0 up to 1. */
export function seeded(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = state;
    t = Math.imul(t ^ (t >>> 15), t | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 4_294_967_296;
  };
}

/** Appends records of the kinds of data a job has, of several lengths and scripts. */
export function fill(journal: Journal, count: number): void {
  const texts = ['Boat store, white pair', 'Segelmacherei: Tür klemmt', '帆布', 'sail loft 🧵', ''];
  for (let i = 0; i < count; i += 1)
    journal.append('act', {
      milliohms: 2_200_000 + i,
      step: `measure.z${i % 7}`,
      text: texts[i % texts.length]!,
    });
}

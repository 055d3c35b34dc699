import type { App } from '../app/state.ts';

/**
 * The fields of the survey that a step most likely found wrong, as paths: those of its zone first, then its
 * cables and detectors.
 */
export function correctable(app: App, step: string | null): readonly string[] {
  const { about, inHand, own, cables } = aboutStep(app, step);
  const loops = inHand.flatMap(({ id, detectors: of }) => [
    `zones.${id}.loop.resistor`,
    `zones.${id}.loop.style`,
    `zones.${id}.loop.resistorAt`,
    ...(of.length > 1 ? [`zones.${id}.joined`] : []),
  ]);
  const lengths = cables
    .filter(({ id }) => about.has(id) || own.some((one) => one.cable === id))
    .map(({ id }) => `cables.${id}.length`);
  const kinds = own.map(({ id }) => `detectors.${id}.contact`);
  return [...loops, ...lengths, ...kinds].slice(0, 8);
}

/** The zones that a step is about, and the detectors of these and of its own. */
export function aboutStep({ job }: App, step: string | null) {
  const about = new Set(job?.steps.find((one) => one.id === step)?.about ?? []);
  const { zones = [], cables = [], detectors = [] } = job?.plan.survey ?? {};
  const inHand = zones.filter((zone) => about.has(zone.id) || zone.detectors.some((id) => about.has(id)));
  const own = detectors.filter(
    ({ id, cable }) =>
      about.has(id) || about.has(cable) || inHand.some((zone) => zone.detectors.includes(id)),
  );
  return { about, inHand, own, cables };
}

import type { Drawing } from './drawing.ts';
import type { Device, Loop } from './loop.ts';

/** A detector between its two terminals: what is in its housing, from the one to the other. */
export function drawHousing(
  drawing: Drawing,
  { zone, end, isAcross, style, alarmOhms, bridges }: Loop,
  device: Device,
  a: string,
  b: string,
): void {
  const { id, sense, powered } = device;
  const across = isAcross(device);
  let here = a;
  if (end?.at === id) {
    const inside = across ? b : `${id} resistor`;
    drawing.resistor(
      `${zone}.end-of-line`,
      { zone, a, b: inside, stands: across ? 'across' : 'series', place: 'detector', by: end.by },
      end.ohms,
    );
    if (!across) here = inside;
  }
  if (powered && sense === 'normally-closed' && drawing.is(0.15)) {
    device.fields.tamper = 'in-loop';
    const cover = `${id} cover`;
    drawing.contacts.push({
      detector: id,
      purpose: 'tamper',
      sense: 'normally-closed',
      a: here,
      b: cover,
      closedOhms: 0.1,
      unpowered: null,
      stuck: null,
    });
    here = cover;
  }
  const own =
    style === 'two-resistor' ? ['alarm', alarmOhms] : style === 'bridged' ? ['bridge', bridges[id]!] : null;
  const leave = own !== null && across ? `${id} contact` : b;
  drawing.contacts.push({
    detector: id,
    purpose: 'alarm',
    sense,
    a: here,
    b: leave,
    closedOhms: powered ? drawing.chance.between(0.5, 12) : drawing.chance.between(0.05, 0.5),
    unpowered: powered ? (device.fields.unpowered as 'open' | 'closed') : null,
    stuck: null,
  });
  if (own === null) return;
  const [role, ohms] = own as [string, number];
  drawing.resistor(
    `${zone}.${role}.${id}`,
    {
      zone,
      a: across ? leave : here,
      b,
      stands: across ? 'series' : 'across',
      place: 'detector',
      by: 'part',
    },
    ohms,
  );
}

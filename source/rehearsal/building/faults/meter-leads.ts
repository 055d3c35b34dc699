import type { Fault } from './fault.ts';

export const METER_FAULTS: readonly Fault[] = [
  {
    name: 'meter-leads',
    says: "The meter's leads were not zeroed and add to every reading in ohms.",
    harms: false,
    place: (building, _scene, random) => {
      const { meter } = building;
      return {
        building: { ...building, meter: { ...meter, offsetOhms: random.between(2, 4.5) } },
        about: [],
        mend: { by: 'hand', says: 'the leads were exchanged and zeroed', to: (now) => ({ ...now, meter }) },
      };
    },
  },
];

import { randomSurveyText } from '../random-survey.ts';

export const SIXTY = 3;

/** A survey of sixty detectors in twenty zones on five boards, every style of loop among them. */
export function sixtyText(): string {
  return randomSurveyText(SIXTY, { zones: 20, detectors: 60, unknowns: false });
}

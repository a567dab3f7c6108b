/** One or more samples of every kind in kinds.ts; a test holds the two lists together. */
import { envelopeSamples } from './envelope.ts';
import { finishesSamples } from './finishes.ts';
import { houseSamples } from './house.ts';
import { marginSamples } from './margin.ts';
import { plainSamples } from './plain.ts';
import { powerLawFitSamples } from './power-law-fit.ts';
import { scheduleSamples } from './schedule.ts';
import { trimSamples } from './trim.ts';
import type { Sample } from './sample.ts';

export const samples: readonly Sample[] = [
  ...powerLawFitSamples,
  ...marginSamples,
  ...plainSamples,
  ...houseSamples,
  ...envelopeSamples,
  ...finishesSamples,
  ...trimSamples,
  ...scheduleSamples,
];

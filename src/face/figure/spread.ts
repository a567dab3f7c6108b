/** Half width of the 95 % interval of a normal distribution, in standard uncertainties. */
export const NORMAL_95 = 1.96;

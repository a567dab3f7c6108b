/** What is loaded where a route or code for a column is wanted (route-code.ts). */
export { kernelCode } from './kernel-code.ts';
export { routeFrom } from './route.ts';
export { spreadPlan } from './spread-plan.ts';
export { SpreadRoute } from './spread-route.ts';

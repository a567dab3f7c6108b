/** What is loaded where a route is wanted (route-code.ts). */
export { routeFrom } from './route.ts';
export { spreadPlan } from './spread-plan.ts';
export { SpreadRoute } from './spread-route.ts';

/**
 * The code of routes comes late: it is for who tries a value again and again, and not for the first number. Until it
 * is there everything goes the general way.
 */
import type * as LateRoutes from './late-routes.ts';

let code: typeof LateRoutes | undefined;
let coming: Promise<void> | undefined;

/** Sends for it the first time; undefined while it is on its way. */
export function routeCode(): typeof LateRoutes | undefined {
  coming ??= import('./late-routes.ts').then(
    (loaded) => {
      code = loaded;
    },
    // Without network and not kept on the device: sent for once more.
    () => {
      coming = undefined;
    },
  );
  return code;
}

/** Waits until it is there. */
export async function routesAtHand(): Promise<void> {
  routeCode();
  await coming;
}

import { serveApp } from '../tooling/serve.mjs';

/** Serves the built app in this process on a free port: nothing to kill afterwards, no clash of ports. */
export default async function serve(): Promise<() => Promise<void>> {
  const { address, close } = await serveApp(0);
  process.env.BASE_URL = address;
  return close;
}

import { killWhileTyping } from './kills.ts';
import { expect, test } from './support.ts';

test('killed 30 times while a robot types, the page finds every edit it had called saved', async ({
  baseURL,
}) => {
  test.setTimeout(600_000);
  const executable = process.env.CHROMIUM_PATH;
  if (executable === undefined || baseURL === undefined) throw new Error('no browser or no address');
  let turn = 0;
  // Moments spread evenly over the span, in no order (golden ratio).
  const chance = () => (turn++ * 0.618034) % 1;
  const { saved, typed, lost } = await killWhileTyping(baseURL, executable, 30, chance);
  console.log(`30 kills: ${typed} edits typed, ${saved} called saved, ${lost.length} lost`);
  expect(lost).toEqual([]);
  expect(saved).toBeGreaterThan(30);
});

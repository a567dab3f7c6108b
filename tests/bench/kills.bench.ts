/**
 * 300 kills of the browser while a robot types into the built app, or as many as KILLS in the environment says: no edit
 * that was called saved may be lost.
 */
import { chanceFrom } from '../engine/calculation/random-formula.ts';
import { killWhileTyping } from '../browser/kills.ts';
import { builtApp } from './built-app.ts';

const KILLS = Number(process.env.KILLS ?? 300);

export async function run(): Promise<void> {
  const { address, executablePath, close } = await builtApp();
  try {
    const { saved, typed, lost } = await killWhileTyping(address, executablePath, KILLS, chanceFrom(20));
    console.log(`${KILLS} kills: ${typed} edits typed, ${saved} called saved, ${lost.length} lost`);
    if (lost.length > 0) throw new Error(lost.join('\n'));
  } finally {
    await close();
  }
}

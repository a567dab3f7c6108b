import type { Session } from './session.svelte.ts';

/** Begins or ends the arranging of a worksheet; what it takes is loaded when it is first asked for. */
export async function arrange(session: Session): Promise<void> {
  const { toggleArranging } = await import('./toggle-arranging.ts');
  await toggleArranging(session);
}

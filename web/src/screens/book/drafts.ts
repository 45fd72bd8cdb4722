// What is being written into the book, as it goes to the server.

import type { NewBookEntry } from '../../api/contract';

const names: Record<NewBookEntry['what'], string> = {
  action: 'Done', reading: 'Temperature', rule: 'Rules', signature: 'Signed', 'take back': 'Taking back',
};

/** "Temperature of P: 38 F, received (AB)". */
export function draftWords(draft: NewBookEntry): string {
  const of = draft.what === 'take back' ? ` entry ${draft.of ?? ''}` : draft.piece ? ` of ${draft.piece}` : '';
  const said = [draft.temperature, draft.text, draft.why].filter((one) => one).join(', ');
  return `${names[draft.what]}${of}${said === '' ? '' : `: ${said}`} (${draft.by})`;
}

const key = 'pitwright.initials';

/** The initials written last on this device. */
export function lastInitials(): string {
  try {
    return localStorage.getItem(key) ?? '';
  } catch {
    return '';
  }
}

export function keepInitials(initials: string): void {
  try {
    localStorage.setItem(key, initials);
  } catch {
    // Asked for again next time.
  }
}

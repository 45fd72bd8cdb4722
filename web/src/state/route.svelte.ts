// Where one is, in the address's fragment: what a person would bookmark or send to another.

export type BurnScreen = 'fire' | 'hand' | 'lay' | 'call' | 'book';

export type Route =
  | { screen: BurnScreen; burn: string; take: Record<string, string> }
  | { screen: 'past' }
  | { screen: 'pits' }
  /** pit: its name; empty: one that is still to be drawn */
  | { screen: 'pit'; pit: string }
  | { screen: 'begin' }
  | { screen: 'settings' };

const burnScreens: readonly string[] = ['fire', 'hand', 'lay', 'call', 'book'];

/** "#/burn/ID/call?without_stint=2" and the like; anything else is null: start wherever is best. */
export function routeOf(fragment: string): Route | null {
  const [path = '', query = ''] = fragment.replace(/^#\/?/, '').split('?');
  const [first, second, third] = path.split('/').map(decodeURIComponent);
  if (first === 'burn' && second && third && burnScreens.includes(third)) {
    return { screen: third as BurnScreen, burn: second, take: Object.fromEntries(new URLSearchParams(query)) };
  }
  if (first === 'pit' && second) return { screen: 'pit', pit: second };
  if (first === 'draw') return { screen: 'pit', pit: '' };
  if (first === 'past' || first === 'pits' || first === 'begin' || first === 'settings') return { screen: first };
  return null;
}

export function hrefOf(route: Route): string {
  if ('burn' in route) {
    const query = new URLSearchParams(route.take).toString();
    return `#/burn/${encodeURIComponent(route.burn)}/${route.screen}${query ? `?${query}` : ''}`;
  }
  if (route.screen !== 'pit') return `#/${route.screen}`;
  return route.pit === '' ? '#/draw' : `#/pit/${encodeURIComponent(route.pit)}`;
}

export const where = $state<{ route: Route | null }>({ route: routeOf(location.hash) });

export function go(route: Route): void {
  location.hash = hrefOf(route);
}

addEventListener('hashchange', () => {
  where.route = routeOf(location.hash);
});

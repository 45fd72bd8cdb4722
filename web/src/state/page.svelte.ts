// Whether there is room for a laptop's picture.

const wide = matchMedia('(min-width: 60rem)');

export const page = $state({ wide: wide.matches });

wide.addEventListener('change', () => (page.wide = wide.matches));

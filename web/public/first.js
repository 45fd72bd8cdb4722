// Runs before the first paint, so that a dark screen never flashes white at 3 a.m.
(function () {
  var kept = null;
  try { kept = JSON.parse(localStorage.getItem('pitwright.settings') || 'null'); } catch { kept = null; }
  var wish = (kept && kept.theme) || 'system';
  var theme = wish;
  if (wish === 'system') {
    theme = matchMedia('(prefers-color-scheme: dark)').matches ? 'night'
      : matchMedia('(prefers-contrast: more)').matches ? 'noon' : 'day';
  }
  document.documentElement.dataset.theme = theme;
})();

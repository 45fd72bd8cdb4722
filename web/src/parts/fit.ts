/** Makes an element's one line as large as its parent lets it be, up to `most` px, in whatever font this device has. */
export function fit(most: number, words: string) {
  return (element: HTMLElement) => {
    const holder = element.parentElement;
    if (!holder) return;
    const size = () => {
      element.style.setProperty('font-size', '100px');
      const natural = element.scrollWidth;
      if (natural > 0 && words !== '') {
        element.style.setProperty('font-size', `${Math.min(most, Math.floor((100 * holder.clientWidth) / natural))}px`);
      }
    };
    size();
    const watch = new ResizeObserver(size);
    watch.observe(holder);
    return () => watch.disconnect();
  };
}

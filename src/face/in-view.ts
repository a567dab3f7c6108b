/** Tells of elements whether they are in view: what is not can follow an edit after what is. */
const told = new WeakMap<Element, (isIn: boolean) => void>();
/** Made with the first element. */
let observer: IntersectionObserver | undefined;

export function inView(element: HTMLElement, tell: (isIn: boolean) => void) {
  observer ??= new IntersectionObserver((entries) => {
    for (const { target, isIntersecting } of entries) told.get(target)?.(isIntersecting);
  });
  told.set(element, tell);
  observer.observe(element);
  return {
    destroy() {
      observer?.unobserve(element);
    },
  };
}

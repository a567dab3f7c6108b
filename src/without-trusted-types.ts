/**
 * To be imported before Svelte, which makes a Trusted Types policy where a browser has them. WebKit (seen in WebKitGTK
 * 2.50) may collect the function of a policy that is in use; drawing then fails with “did not specify a 'createHTML'
 * member”. The page's own policy asks for no such types, and Svelte does without them where it finds none.
 */
Object.defineProperty(globalThis, 'trustedTypes', { value: undefined });

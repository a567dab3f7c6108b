declare module '*.svg?icon' {
  import type { Component } from 'svelte';
  const icon: Component;
  export default icon;
}

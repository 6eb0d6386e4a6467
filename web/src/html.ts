// Templates of the page: htm bound to preact.
import { h } from "preact";
import htm from "htm";

export const html = htm.bind(h) as (strings: TemplateStringsArray, ...values: unknown[]) => ReturnType<typeof h>;

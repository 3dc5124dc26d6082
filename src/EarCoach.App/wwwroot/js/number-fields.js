/** Fields for the numbers of a drill or of its strictness. */

import { element } from "./shapes.js";

/** One field a number. What the player changes is written into "changed" under the number's id, and told to onChange. */
export function numberFields(numbers, changed, onChange = () => {}) {
  return numbers.map(number => {
    const value = changed[number.id] ?? number.value;
    const label = element("label", { text: number.name });
    const took = taken => {
      changed[number.id] = taken;
      onChange(number.id, taken);
    };
    if (number.choices) {
      const select = element("select", { name: number.id });
      select.append(...number.choices.map(choice => {
        const option = element("option", { value: choice.id, text: choice.name });
        option.selected = choice.id === value;
        return option;
      }));
      select.addEventListener("change", () => took(select.value));
      label.append(select);
    } else {
      const input = element("input", { type: "number", name: number.id, min: number.least, max: number.most, step: number.step ?? 1 });
      input.value = value ?? "";
      input.placeholder = number.empty ?? "";
      input.required = !number.empty;
      input.addEventListener("change", () => took(input.value === "" ? null : Number(input.value)));
      label.append(input);
    }
    return label;
  });
}

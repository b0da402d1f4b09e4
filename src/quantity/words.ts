/** First letter large, the rest as it is. */
export const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);

-- A paint has a colour, thick and dry, as a screen shows it: `#rrggbb` in sRGB. NULL is unknown.

ALTER TABLE material ADD COLUMN colour TEXT CHECK (colour GLOB '#[0-9a-f][0-9a-f][0-9a-f][0-9a-f][0-9a-f][0-9a-f]');

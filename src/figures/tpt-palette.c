#include "tpt-palette.h"

#include <math.h>

/* In the order of TptColorRole. Print keeps to white paper, and to greys far
 * enough apart for a copier. */
static const guint32 colors[TPT_N_PALETTES][TPT_N_COLORS] = {
  [TPT_PALETTE_LIGHT] = {
    0xffffff, 0x1d2926, 0x5a6763, 0xe4e9e6,
    0x17604d, 0x6fa593, 0xc9ddd5, 0xffffff,
    0xeff1ea, 0xdde1d6, 0xaac9d9, 0x33607a, 0x98713f, 0x7f8580, 0x75658d,
    0x1f7564, 0xad7a14, 0xc2482a, 0x202927,
    0x17604d, 0xb4552a, 0x3a6bb3, 0x9a7400, 0x7b3f88,
  },
  [TPT_PALETTE_DARK] = {
    0x1e2221, 0xeef2f0, 0xa6b1ac, 0x363d3b,
    0x66bfa5, 0x468573, 0x2c453d, 0x0e1c18,
    0x252b29, 0x343c39, 0x345669, 0x9cc4d9, 0xb99766, 0x868d8a, 0xa497bd,
    0x58b59d, 0xd9ab4a, 0xf0825f, 0xf1f4f2,
    0x66bfa5, 0xe08d63, 0x85aee8, 0xd9bd5a, 0xb56ba3,
  },
  [TPT_PALETTE_PRINT] = {
    0xffffff, 0x101614, 0x49534f, 0xdfe3e1,
    0x0f5140, 0x78a999, 0xc8d8d1, 0xffffff,
    0xf6f7f3, 0xe0e3db, 0xa9c6d6, 0x28526b, 0x86602f, 0x7d827e, 0x64547c,
    0x186655, 0xa8750c, 0xa9371c, 0x101614,
    0x0f5140, 0x9e401a, 0x2f5fa8, 0xa98212, 0x6d327a,
  },
};

TptColor
tpt_palette_color (TptPalette palette,
                   TptColorRole role)
{
  guint32 packed = colors[palette][role];
  TptColor color = { ((packed >> 16) & 0xff) / 255.0, ((packed >> 8) & 0xff) / 255.0, (packed & 0xff) / 255.0 };

  return color;
}

void
tpt_palette_set (TptPalette palette,
                 cairo_t *cr,
                 TptColorRole role,
                 double alpha)
{
  TptColor color = tpt_palette_color (palette, role);

  cairo_set_source_rgba (cr, color.red, color.green, color.blue, alpha);
}

TptColor
tpt_color_mix (TptColor from,
               TptColor to,
               double share)
{
  TptColor color = {
    from.red + share * (to.red - from.red),
    from.green + share * (to.green - from.green),
    from.blue + share * (to.blue - from.blue),
  };

  return color;
}

static double
linearize (double part)
{
  return part <= 0.04045 ? part / 12.92 : pow ((part + 0.055) / 1.055, 2.4);
}

static double
get_luminance (TptColor color)
{
  return 0.2126 * linearize (color.red) + 0.7152 * linearize (color.green) + 0.0722 * linearize (color.blue);
}

double
tpt_color_contrast (TptColor a,
                    TptColor b)
{
  double luminance_a = get_luminance (a);
  double luminance_b = get_luminance (b);

  return (MAX (luminance_a, luminance_b) + 0.05) / (MIN (luminance_a, luminance_b) + 0.05);
}

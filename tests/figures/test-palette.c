#include "tpt-palette.h"

#include <math.h>

/* WCAG 2.1, success criteria 1.4.3 (text, 4.5) and 1.4.11 (marks, 3); the two
 * grounds are those of lists and of maps. */
static void
test_contrast_of_text (void)
{
  static const TptColorRole text[] = { TPT_COLOR_INK, TPT_COLOR_QUIET, TPT_COLOR_ACCENT, TPT_COLOR_WATER_INK };
  static const TptColorRole grounds[] = { TPT_COLOR_PAPER, TPT_COLOR_GROUND };

  for (int palette = 0; palette < TPT_N_PALETTES; palette++)
    {
      for (guint i = 0; i < G_N_ELEMENTS (text); i++)
        for (guint j = 0; j < G_N_ELEMENTS (grounds); j++)
          g_assert_cmpfloat (tpt_color_contrast (tpt_palette_color (palette, text[i]),
                                                 tpt_palette_color (palette, grounds[j])), >=, 4.5);
      g_assert_cmpfloat (tpt_color_contrast (tpt_palette_color (palette, TPT_COLOR_ON_ACCENT),
                                             tpt_palette_color (palette, TPT_COLOR_ACCENT)), >=, 4.5);
    }
}

static void
test_contrast_of_marks (void)
{
  for (int palette = 0; palette < TPT_N_PALETTES; palette++)
    for (int role = TPT_COLOR_TRAIL; role < TPT_N_COLORS; role++)
      g_assert_cmpfloat (tpt_color_contrast (tpt_palette_color (palette, role),
                                             tpt_palette_color (palette, role <= TPT_COLOR_BOUNDARY ? TPT_COLOR_GROUND
                                                                                                    : TPT_COLOR_PAPER)), >=, 3.0);
}

static void
test_contrast_of_extremes (void)
{
  TptColor black = { 0, 0, 0 };
  TptColor white = { 1, 1, 1 };
  TptColor grey = { 0x77 / 255.0, 0x77 / 255.0, 0x77 / 255.0 };

  /* WCAG 2.1, definition of contrast ratio: 1 to 21. */
  g_assert_cmpfloat_with_epsilon (tpt_color_contrast (black, white), 21, 1e-9);
  g_assert_cmpfloat_with_epsilon (tpt_color_contrast (white, white), 1, 1e-9);
  /* #777 on white is 4.48: from memory, the usual example of a near miss. */
  g_assert_cmpfloat_with_epsilon (tpt_color_contrast (grey, white), 4.48, 0.005);
}

typedef struct {
  double part[3];
} Triple;

static double
linearize (double part)
{
  return part <= 0.04045 ? part / 12.92 : pow ((part + 0.055) / 1.055, 2.4);
}

static Triple
multiply (const double m[3][3],
          Triple v)
{
  Triple out;

  for (int i = 0; i < 3; i++)
    out.part[i] = m[i][0] * v.part[0] + m[i][1] * v.part[1] + m[i][2] * v.part[2];
  return out;
}

/* What dichromats see: Vienot, Brettel and Mollon 1999, Color Research and
 * Application 24(4):243-252, the matrices from memory. @kind 0 is normal
 * sight, 1 protanopia, 2 deuteranopia. */
static Triple
simulate (TptColor color,
          int kind)
{
  static const double to_cones[3][3] = {
    { 17.8824, 43.5161, 4.11935 }, { 3.45565, 27.1554, 3.86714 }, { 0.0299566, 0.184309, 1.46709 }
  };
  static const double from_cones[3][3] = {
    { 0.0809444479, -0.130504409, 0.116721066 },
    { -0.0102485335, 0.0540193266, -0.113614708 },
    { -0.000365296938, -0.00412161469, 0.693511405 }
  };
  Triple light = { { linearize (color.red), linearize (color.green), linearize (color.blue) } };
  Triple cones = multiply (to_cones, light);

  if (kind == 0)
    return light;
  if (kind == 1)
    cones.part[0] = 2.02344 * cones.part[1] - 2.52581 * cones.part[2];
  else
    cones.part[1] = 0.494207 * cones.part[0] + 1.24827 * cones.part[2];
  return multiply (from_cones, cones);
}

static double
bend (double t)
{
  return t > 216.0 / 24389.0 ? cbrt (t) : (24389.0 / 27.0 * t + 16) / 116;
}

/* CIE 1976 L*a*b* of sRGB light, white D65: IEC 61966-2-1. */
static Triple
to_lab (Triple light)
{
  static const double to_xyz[3][3] = {
    { 0.4124, 0.3576, 0.1805 }, { 0.2126, 0.7152, 0.0722 }, { 0.0193, 0.1192, 0.9505 }
  };
  Triple xyz = multiply (to_xyz, light);
  double x = bend (xyz.part[0] / 0.9505), y = bend (xyz.part[1]), z = bend (xyz.part[2] / 1.089);

  return (Triple) { { 116 * y - 16, 500 * (x - y), 200 * (y - z) } };
}

static double
get_difference (TptColor a,
                TptColor b,
                int kind)
{
  Triple lab_a = to_lab (simulate (a, kind));
  Triple lab_b = to_lab (simulate (b, kind));

  return sqrt (pow (lab_a.part[0] - lab_b.part[0], 2) + pow (lab_a.part[1] - lab_b.part[1], 2) +
               pow (lab_a.part[2] - lab_b.part[2], 2));
}

/* A difference of 2.3 can just be seen, side by side (Mahy, Van Eycken and
 * Oosterlinck 1994, from memory); 12 is five times that, for thin lines apart. */
static void
check_apart (TptColorRole first,
             TptColorRole last)
{
  for (int palette = 0; palette < TPT_N_PALETTES; palette++)
    for (TptColorRole a = first; a < last; a++)
      for (TptColorRole b = a + 1; b <= last; b++)
        for (int kind = 0; kind < 3; kind++)
          {
            double difference = get_difference (tpt_palette_color (palette, a), tpt_palette_color (palette, b), kind);

            if (difference < 12)
              g_error ("palette %d: roles %u and %u are %.17g apart for sight %d", palette, a, b, difference, kind);
          }
}

static void
test_apart (void)
{
  check_apart (TPT_COLOR_FINE, TPT_COLOR_DOWN);
  check_apart (TPT_COLOR_SERIES_1, TPT_COLOR_SERIES_5);
}

/* The simulation itself: green and red of the same brightness merge, yellow
 * and blue never do. */
static void
test_simulation (void)
{
  TptColor red = { 0.75, 0.35, 0.2 }, green = { 0.45, 0.52, 0.2 };
  TptColor yellow = { 1, 1, 0 }, blue = { 0, 0, 1 };

  g_assert_cmpfloat (get_difference (red, green, 0), >, 40);
  g_assert_cmpfloat (get_difference (red, green, 2), <, 20);
  g_assert_cmpfloat (get_difference (yellow, blue, 1), >, 100);
  g_assert_cmpfloat (get_difference (yellow, blue, 2), >, 100);
}

int
main (int argc,
      char *argv[])
{
  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);
  g_test_add_func ("/figures/palette/contrast-of-text", test_contrast_of_text);
  g_test_add_func ("/figures/palette/contrast-of-marks", test_contrast_of_marks);
  g_test_add_func ("/figures/palette/contrast-of-extremes", test_contrast_of_extremes);
  g_test_add_func ("/figures/palette/simulation", test_simulation);
  g_test_add_func ("/figures/palette/apart", test_apart);
  return g_test_run ();
}

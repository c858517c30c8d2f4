#include "tpt-symbol.h"

#include <math.h>

#define SIDE 16

/* Grey values of a symbol as a list shows it at its smallest. */
static void
render (const TptSymbol *symbol,
        TptPalette palette,
        double grey[SIDE * SIDE])
{
  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_RGB24, SIDE, SIDE);
  cairo_t *cr = cairo_create (surface);
  int stride = cairo_image_surface_get_stride (surface);
  const guint8 *data;

  tpt_palette_set (palette, cr, TPT_COLOR_PAPER, 1);
  cairo_paint (cr);
  tpt_symbol_draw (cr, symbol, SIDE / 2.0, SIDE / 2.0, SIDE, palette);
  cairo_destroy (cr);
  cairo_surface_flush (surface);
  data = cairo_image_surface_get_data (surface);
  for (int y = 0; y < SIDE; y++)
    for (int x = 0; x < SIDE; x++)
      {
        guint32 pixel = *(const guint32 *) (gconstpointer) (data + y * stride + 4 * x);

        grey[y * SIDE + x] = (0.2126 * ((pixel >> 16) & 0xff) + 0.7152 * ((pixel >> 8) & 0xff) + 0.0722 * (pixel & 0xff)) / 255;
      }
  cairo_surface_destroy (surface);
}

/* How far a part of the symbol stands out from the paper, whose grey is at the corner. */
static double
sum_ink (const double grey[SIDE * SIDE],
         int left,
         int top,
         int width,
         int height)
{
  double sum = 0;

  for (int y = top; y < top + height; y++)
    for (int x = left; x < left + width; x++)
      sum += fabs (grey[y * SIDE + x] - grey[0]);
  return sum;
}

/* Without any colour, every pair of states differs by at least two and a half
 * full pixels in the core: common practice, no source. */
static void
test_states_in_grey (void)
{
  for (int palette = 0; palette < TPT_N_PALETTES; palette++)
    for (int a = TPT_STATE_FINE; a <= TPT_STATE_UNKNOWN; a++)
      for (int b = a + 1; b <= TPT_STATE_UNKNOWN; b++)
        {
          TptSymbol symbol_a = { 0.5, 0.5, a }, symbol_b = { 0.5, 0.5, b };
          double grey_a[SIDE * SIDE], grey_b[SIDE * SIDE];
          double difference = 0;

          render (&symbol_a, palette, grey_a);
          render (&symbol_b, palette, grey_b);
          for (int y = 4; y < 12; y++)
            for (int x = 4; x < 12; x++)
              difference += fabs (grey_a[y * SIDE + x] - grey_b[y * SIDE + x]);
          if (difference < 2.5)
            g_error ("palette %d: states %d and %d differ by %.17g", palette, a, b, difference);
        }
}

static void
test_rings_empty_from_the_top (void)
{
  const int half = SIDE / 2;
  double full[SIDE * SIDE], middle[SIDE * SIDE], empty[SIDE * SIDE];

  render (&(TptSymbol) { 1, 1, TPT_STATE_FINE }, TPT_PALETTE_LIGHT, full);
  render (&(TptSymbol) { 0.5, 1, TPT_STATE_FINE }, TPT_PALETTE_LIGHT, middle);
  render (&(TptSymbol) { 0, 1, TPT_STATE_FINE }, TPT_PALETTE_LIGHT, empty);

  /* left top is as when empty, left foot as when full, right is untouched */
  g_assert_cmpfloat_with_epsilon (sum_ink (middle, 0, 0, half, half - 1), sum_ink (empty, 0, 0, half, half - 1), 0.01);
  g_assert_cmpfloat_with_epsilon (sum_ink (middle, 0, half + 1, half, half - 1), sum_ink (full, 0, half + 1, half, half - 1), 0.01);
  g_assert_cmpfloat_with_epsilon (sum_ink (middle, half + 1, 0, half - 1, SIDE), sum_ink (full, half + 1, 0, half - 1, SIDE), 0.01);
  g_assert_cmpfloat (sum_ink (full, 0, 0, half, half), >, sum_ink (empty, 0, 0, half, half) + 3);
}

static void
test_rings_are_monotonic (void)
{
  double last = G_MAXDOUBLE;

  for (double energy = 1; energy > -0.01; energy -= 0.125)
    {
      double grey[SIDE * SIDE];
      double ink;

      render (&(TptSymbol) { energy, 0, TPT_STATE_NOW }, TPT_PALETTE_LIGHT, grey);
      ink = sum_ink (grey, 0, 0, SIDE / 2, SIDE);
      g_assert_cmpfloat (ink, <, last - 0.3);
      last = ink;
    }
}

static void
test_unknown_is_neither (void)
{
  static const double known[] = { 0, 0.25, 0.5, 0.75, 1 };
  double unknown[SIDE * SIDE];

  render (&(TptSymbol) { NAN, 0.5, TPT_STATE_FINE }, TPT_PALETTE_LIGHT, unknown);
  for (guint i = 0; i < G_N_ELEMENTS (known); i++)
    {
      double grey[SIDE * SIDE];
      double difference = 0;

      render (&(TptSymbol) { known[i], 0.5, TPT_STATE_FINE }, TPT_PALETTE_LIGHT, grey);
      for (int j = 0; j < SIDE * SIDE; j++)
        difference += fabs (grey[j] - unknown[j]);
      g_assert_cmpfloat (difference, >, 2);
    }
}

static void
test_words (void)
{
  static const struct {
    TptSymbol symbol;
    const char *words;
  } cases[] = {
    { { 0.12, 0.64, TPT_STATE_NOW }, "needs a visit now; energy 12 %, card 64 %" },
    { { NAN, 1.5, TPT_STATE_FINE }, "fine; energy unknown, card 100 %" },
    { { 0, NAN, TPT_STATE_DOWN }, "down; energy 0 %, card unknown" },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autofree char *words = tpt_symbol_describe (&cases[i].symbol);

      g_assert_cmpstr (words, ==, cases[i].words);
    }
  g_assert_cmpstr (tpt_symbol_state_name (TPT_STATE_SOON), ==, "soon");
}

int
main (int argc,
      char *argv[])
{
  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);
  g_test_add_func ("/figures/symbol/states-in-grey", test_states_in_grey);
  g_test_add_func ("/figures/symbol/empties-from-the-top", test_rings_empty_from_the_top);
  g_test_add_func ("/figures/symbol/monotonic", test_rings_are_monotonic);
  g_test_add_func ("/figures/symbol/unknown", test_unknown_is_neither);
  g_test_add_func ("/figures/symbol/words", test_words);
  return g_test_run ();
}

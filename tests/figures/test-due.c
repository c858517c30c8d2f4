#include "figure-samples.h"

#include <string.h>

static const TptFigureStyle style = TPT_FIGURE_STYLE_INIT;

static void
test_csv (void)
{
  g_autoptr (TptFigure) figure = sample_due ();
  g_autofree char *csv = tpt_figure_csv (figure);

  g_assert_cmpstr (csv, ==,
                   "station,state,energy,card,limiting,out_p10,out_p50,out_p90,lost_nights,next_round\r\n"
                   "Otter bank,now,0.5,0.125,card,2026-03-20T00:00:00+08:00,2026-03-25T00:00:00+08:00,"
                   "2026-04-02T00:00:00+08:00,6.4,2026-03-28T00:00:00+08:00\r\n"
                   "Ridge saddle,unknown,,1,,,,,,2026-03-28T00:00:00+08:00\r\n");
}

static void
test_hits (void)
{
  g_autoptr (TptFigure) figure = sample_due ();
  TptFigureRect plot = tpt_figure_plot_rect (figure, 700, 200, &style);
  double round_x = tpt_figure_position_of (figure, sample_instant ("2026-03-28"), 700, 200, &style);
  g_auto (TptHit) row = { 0 };
  g_auto (TptHit) line = { 0 };

  g_assert_true (tpt_figure_hit (figure, 20, plot.y + plot.height * 0.75, 700, 200, &style, &row));
  g_assert_cmpint (row.kind, ==, TPT_HIT_ROW);
  g_assert_cmpint (row.row, ==, 1);
  g_assert_cmpstr (row.text, ==, "Ridge saddle: state unknown; energy unknown, card 100 %; no forecast");

  g_assert_true (tpt_figure_hit (figure, round_x + 4, plot.y + 10, 700, 200, &style, &line));
  g_assert_cmpint (line.kind, ==, TPT_HIT_ROUND);
  g_assert_cmpstr (line.text, ==, "Next round: 28 March 2026");
}

static void
test_words (void)
{
  g_autoptr (TptFigure) figure = sample_due ();
  g_autofree char *words = tpt_figure_describe (figure);

  g_assert_nonnull (strstr (words, "What is due at 2 stations. Next round: 28 March 2026."));
  g_assert_nonnull (strstr (words, "Otter bank: needs a visit now; energy 50 %, card 13 %; card; gives out between 20 March 2026 "
                                   "and 2 April 2026, with a chance of 80 %; 6.4 nights lost until the round."));
}

int
main (int argc,
      char *argv[])
{
  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);
  g_test_add_func ("/figures/due/csv", test_csv);
  g_test_add_func ("/figures/due/hits", test_hits);
  g_test_add_func ("/figures/due/words", test_words);
  return g_test_run ();
}

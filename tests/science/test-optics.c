#include "sci-optics.h"

#include "check.h"

/* Textbook formulas, computed once in Python; easy to redo by hand. */
static void
test_lenses (void)
{
  static const struct {
    double focal, f_number, circle, width, height, focus;
    double across, up, diagonal, hyperfocal, near, far, frame, close;
  } cases[] = {
    { 28, 2.8, 0.03, 36, 24, 5, 65.4704525442152, 46.39718102729637, 75.38064962340557, 9.361333333333334, 3.262186597073353,
      10.700091715071844, 6.428571428571429, 6.392571428571428 },
    { 50, 8, 0.03, 36, 24, 5, 39.597752709049864, 26.991466561591622, 46.79300334396557, 10.466666666666669,
      3.3893709327548804, 9.527439024390242, 3.6, 3.564 },
    { 7.4, 2.8, 0.004, 6.17, 4.55, 4, 45.261719161155376, 34.17825196543781, 54.76740192165567, 4.896685714285715,
      2.2019133646008244, 21.810476676013256, 3.335135135135135, 3.328965135135135 },
    { 50, 8, 0.03, 36, 24, 20, 39.597752709049864, 26.991466561591622, 46.79300334396557, 10.466666666666669,
      6.86059275521405, INFINITY, 14.4, 14.364 },
    { 35, 5.6, 0.019, 23.6, 15.7, 3, 37.26233295763187, 25.282848008108225, 44.089135297208436, 11.548157894736843,
      2.385626260973881, 4.040575070036635, 2.0228571428571427, 1.9992571428571428 },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      double focal = cases[i].focal, width = cases[i].width, height = cases[i].height, focus = cases[i].focus;
      double hyperfocal = sci_hyperfocal (focal, cases[i].f_number, cases[i].circle);
      SciSharp sharp = sci_depth_of_field (hyperfocal, focal, focus);

      check_rel ("across", sci_angle_of_view (width, focal), cases[i].across, 1e-6);
      check_rel ("up", sci_angle_of_view (height, focal), cases[i].up, 1e-6);
      check_rel ("diagonal", sci_angle_of_view (hypot (width, height), focal), cases[i].diagonal, 1e-6);
      check_rel ("hyperfocal", hyperfocal, cases[i].hyperfocal, 1e-6);
      check_rel ("near", sharp.near_m, cases[i].near, 1e-6);
      check_rel ("far", sharp.far_m, cases[i].far, 1e-6);
      check_rel ("frame", sci_frame_width (width, focal, focus), cases[i].frame, 1e-6);
      check_rel ("close", sci_frame_width_close (width, focal, focus), cases[i].close, 1e-6);
    }
}

/* Focused at the hyperfocal distance, it is sharp from half of it on: follows
 * from the formulas. */
static void
test_hyperfocal (void)
{
  double hyperfocal = sci_hyperfocal (28, 5.6, 0.02);
  SciSharp sharp = sci_depth_of_field (hyperfocal, 28, hyperfocal);

  check_rel ("near", sharp.near_m, hyperfocal / 2, 1e-14);
  check_abs ("far", sharp.far_m, INFINITY, 0);
  sharp = sci_depth_of_field (hyperfocal, 28, hyperfocal * 0.99);
  g_assert_true (isfinite (sharp.far_m));
}

/* Computed once in Python; easy to redo by hand. */
static void
test_pixels (void)
{
  check_rel ("blur", sci_motion_blur (2, 1 / 60.0, 35, 4, 23.6, 6000), 74.15254237288136, 1e-6);
  check_rel ("animal", sci_pixels_across (1.2, 35, 4, 23.6, 6000), 2669.4915254237285, 1e-6);
  check_abs ("standing", sci_motion_blur (0, 1 / 60.0, 35, 4, 23.6, 6000), 0, 0);
  /* by hand: a thing as wide as the frame covers every pixel */
  check_rel ("whole", sci_pixels_across (sci_frame_width (23.6, 35, 4), 35, 4, 23.6, 6000), 6000, 1e-14);
}

/* Computed once in Python; easy to redo by hand. */
static void
test_flash (void)
{
  static const struct {
    double full, iso, power, units, distance, f_number;
    double guide, f_at_distance, reach, from_full, over;
  } cases[] = {
    { 32, 100, 1, 1, 8, 4, 32, 4, 8, 0, 0 },
    { 32, 100, 0.0625, 1, 4, 4, 8, 2, 2, -4, -2 },
    { 32, 400, 0.0625, 1, 4, 4, 16, 4, 4, -4, 0 },
    { 28, 200, 0.25, 2, 5, 5.6, 28, 5.6, 5, -2, 0 },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      double guide = sci_guide_number (cases[i].full, cases[i].iso, cases[i].power, cases[i].units);

      check_rel ("guide number", guide, cases[i].guide, 1e-9);
      check_rel ("f-number", sci_flash_f_number (guide, cases[i].distance), cases[i].f_at_distance, 1e-9);
      check_rel ("reach", sci_flash_reach (guide, cases[i].f_number), cases[i].reach, 1e-9);
      check_abs ("from full", sci_power_stops (cases[i].power), cases[i].from_full, 1e-9);
      check_abs ("over", sci_flash_stops (guide, cases[i].distance, cases[i].f_number), cases[i].over, 1e-9);
      /* by hand: light thins with the square of the distance */
      check_abs ("twice as far", sci_flash_stops (guide, 2 * cases[i].distance, cases[i].f_number), cases[i].over - 2, 1e-9);
    }
}

static void
test_no_meaning (void)
{
  check_abs ("no lens", sci_angle_of_view (36, 0), NAN, 0);
  check_abs ("no sensor", sci_angle_of_view (-1, 50), NAN, 0);
  check_abs ("no aperture", sci_hyperfocal (50, 0, 0.03), NAN, 0);
  check_abs ("unknown", sci_hyperfocal (NAN, 8, 0.03), NAN, 0);
  check_abs ("inside the lens", sci_depth_of_field (10, 50, 0.05).near_m, NAN, 0);
  check_abs ("unknown focus", sci_depth_of_field (10, 50, NAN).far_m, NAN, 0);
  check_abs ("no hyperfocal distance", sci_depth_of_field (NAN, 50, 5).far_m, NAN, 0);
  check_abs ("no distance", sci_frame_width (36, 50, 0), NAN, 0);
  check_abs ("inside the lens", sci_frame_width_close (36, 50, 0.05), NAN, 0);
  check_abs ("negative", sci_pixels_across (-1, 35, 4, 23.6, 6000), NAN, 0);
  check_abs ("more than full", sci_guide_number (32, 100, 1.5, 1), NAN, 0);
  check_abs ("no power", sci_guide_number (32, 100, 0, 1), NAN, 0);
  check_abs ("no power", sci_power_stops (0), NAN, 0);
  check_abs ("nowhere", sci_flash_stops (32, 0, 4), NAN, 0);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);
  g_test_add_func ("/science/optics/lenses", test_lenses);
  g_test_add_func ("/science/optics/hyperfocal", test_hyperfocal);
  g_test_add_func ("/science/optics/pixels", test_pixels);
  g_test_add_func ("/science/optics/flash", test_flash);
  g_test_add_func ("/science/optics/no-meaning", test_no_meaning);
  return g_test_run ();
}

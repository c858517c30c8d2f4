/* The sums of setting a rig out, in words. */
#include "config.h"

#include "tpt-rig-helper.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "tpt-log-private.h"

/* A third of a stop is the least a lens is set by: common practice, no source. */
#define RIGHT_STOPS (1.0 / 3)

/* Something a sum needs. */
typedef struct {
  double value;
  const char *name; /* within a sentence */
} Need;

/* (transfer full) (nullable): "Cannot say … because … is not known", for the
 * first that is missing; zero and less are as good as nothing. */
static char *
say_missing (const char *what, const Need *needs, guint n)
{
  for (guint i = 0; i < n; i++)
    if (!(needs[i].value > 0))
      /* Translators: what cannot be said, and what is not known. */
      return g_strdup_printf (_("Cannot say %1$s because %2$s is not known."), what, needs[i].name);
  return NULL;
}

static double
know_sensor (const TptRigInputs *in)
{
  return in->sensor != NULL ? in->sensor->width_mm : NAN;
}

char *
tpt_rig_say_view (const TptRigInputs *in, const TptRigOutputs *out)
{
  const Need needs[] = { { know_sensor (in), _("the size of the sensor") }, { in->focal_mm, _("the focal length") } };
  char *missing = say_missing (_("what the camera sees"), needs, G_N_ELEMENTS (needs));

  if (missing != NULL)
    return missing;
  if (!(in->beam_m > 0))
    return g_strdup_printf (_("The camera sees %1$.0f° across and %2$.0f° up and down."), out->across, out->upright);
  return g_strdup_printf (_("The camera sees %1$.0f° across and %2$.0f° up and down. At the beam, %3$.1f m away, that is %4$.1f m wide "
                            "and %5$.1f m high."), out->across, out->upright, in->beam_m, out->width_m, out->height_m);
}

static char *
say_range (const TptRigInputs *in, const TptRigOutputs *out)
{
  if (isinf (out->far_m))
    return g_strdup_printf (_("Sharp from %.1f m to the far distance."), out->near_m);
  if (in->beam_m > 0 && (in->beam_m < out->near_m || in->beam_m > out->far_m))
    return g_strdup_printf (_("Sharp from %1$.1f m to %2$.1f m: the beam, %3$.1f m away, lies outside."), out->near_m, out->far_m,
                            in->beam_m);
  return g_strdup_printf (_("Sharp from %1$.1f m to %2$.1f m."), out->near_m, out->far_m);
}

char *
tpt_rig_say_sharp (const TptRigInputs *in, const TptRigOutputs *out)
{
  const Need needs[] = {
    { know_sensor (in), _("the size of the sensor") },
    { in->focal_mm, _("the focal length") },
    { in->f_number, _("the f-number") },
    { in->focus_m, _("the focus distance") },
  };
  char *missing = say_missing (_("what will be sharp"), needs, G_N_ELEMENTS (needs));
  g_autofree char *range = NULL;

  if (missing != NULL)
    return missing;
  if (isnan (out->near_m))
    return g_strdup (_("Cannot say what will be sharp because the focus distance lies within the lens."));
  range = say_range (in, out);
  return g_strdup_printf (_("%1$s Focused at %2$.1f m (the hyperfocal distance), everything from half of that on is sharp."), range,
                          out->hyperfocal_m);
}

static char *
say_stops (const TptRigOutputs *out)
{
  if (fabs (out->stops) <= RIGHT_STOPS)
    return g_strdup (_("exposes well"));
  return g_strdup_printf (out->stops > 0 ? _("is %.1f stops too bright") : _("is %.1f stops too dark"), fabs (out->stops));
}

char *
tpt_rig_say_flash (const TptRigInputs *in, const TptRigOutputs *out)
{
  const Need needs[] = {
    { in->guide_m, _("the guide number") },       { in->iso, _("the ISO setting") },      { in->power, _("the power of the flash") },
    { in->n_flashes, _("the number of flashes") }, { in->flash_m, _("the flash’s distance") },
  };
  char *missing = say_missing (_("how the flash exposes"), needs, G_N_ELEMENTS (needs));
  g_autofree char *stops = NULL;

  if (missing != NULL)
    return missing;
  if (!(in->f_number > 0))
    return g_strdup_printf (_("At %1$.1f m the flash exposes well at f/%2$.1f."), in->flash_m, out->flash_f);
  stops = say_stops (out);
  /* Translators: an f-number, a distance, "exposes well" or "is 2.0 stops too dark", an f-number, a distance. */
  return g_strdup_printf (_("At f/%1$.1f and %2$.1f m the flash %3$s; right would be f/%4$.1f, or %5$.1f m."), in->f_number, in->flash_m,
                          stops, out->flash_f, out->reach_m);
}

static char *
say_days (double days)
{
  gulong whole = (gulong) MIN (days, 3651);

  if (whole == 0)
    return g_strdup (_("less than a day"));
  if (whole > 3650)
    return g_strdup (_("more than ten years"));
  return g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "about %lu day", "about %lu days", whole), whole);
}

char *
tpt_rig_say_energy (const TptRigInputs *in, const TptRigOutputs *out)
{
  const Need needs[] = { { in->triggers_per_day, _("the number of triggers a day") } };
  char *missing = say_missing (_("how long the cells last"), needs, G_N_ELEMENTS (needs));
  g_autofree char *days = NULL;

  if (missing != NULL)
    return missing;
  if (out->first == NULL)
    return g_strdup (_("Cannot say how long the cells last because no unit is chosen whose charge and use are known."));
  days = say_days (out->days);
  return g_strdup_printf (_("By the plain sum the first to give out is %1$s, after %2$s. Cells differ: the forecast gives a span once "
                            "the rig stands."), tpt_log_unit_label (out->first), days);
}

char *
tpt_rig_say_card (const TptRigInputs *in, const TptRigOutputs *out)
{
  const Need needs[] = {
    { in->triggers_per_day, _("the number of triggers a day") },
    { in->frames_per_trigger, _("the number of frames per trigger") },
    { in->frame_mb, _("the size of a frame") },
  };
  char *missing = say_missing (_("when the card is full"), needs, G_N_ELEMENTS (needs));
  g_autofree char *days = NULL;

  if (missing != NULL)
    return missing;
  if (isnan (out->card_days))
    return g_strdup (_("Cannot say when the card is full because no card is chosen whose size is known."));
  days = say_days (out->card_days);
  return g_strdup_printf (_("By the plain sum the card is full after %s."), days);
}

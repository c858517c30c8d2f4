#include "config.h"

#include "tpt-station-item.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "tpt-words.h"

struct _TptStationItem {
  GObject parent_instance;

  TptRecord *record;     /* (owned) */
  TptRecord *deployment; /* (owned) (nullable) */
  TptForecast forecast;
};

G_DEFINE_FINAL_TYPE (TptStationItem, tpt_station_item, G_TYPE_OBJECT)

enum {
  PROP_0,
  PROP_CODE,
  PROP_TITLE,
  N_PROPS,
};

static GParamSpec *properties[N_PROPS];

static void
free_unit (gpointer data)
{
  TptUnitForecast *unit = data;

  g_free (unit->unit);
  g_free (unit->kind);
  g_free (unit->label);
  g_free (unit->why);
  g_free (unit);
}

static void
tpt_station_item_finalize (GObject *object)
{
  TptStationItem *self = TPT_STATION_ITEM (object);

  g_clear_object (&self->record);
  g_clear_object (&self->deployment);
  g_free (self->forecast.limiting);
  g_free (self->forecast.limiting_label);
  g_free (self->forecast.card.unit);
  g_free (self->forecast.card.why);
  g_free (self->forecast.why);
  g_ptr_array_unref (self->forecast.units);

  G_OBJECT_CLASS (tpt_station_item_parent_class)->finalize (object);
}

static void
tpt_station_item_get_property (GObject *object, guint id, GValue *value, GParamSpec *pspec)
{
  TptStationItem *self = TPT_STATION_ITEM (object);

  switch (id)
    {
    case PROP_CODE:
      g_value_set_string (value, tpt_station_item_get_code (self));
      break;
    case PROP_TITLE:
      g_value_set_string (value, tpt_station_item_get_title (self));
      break;
    default:
      G_OBJECT_WARN_INVALID_PROPERTY_ID (object, id, pspec);
    }
}

static void
tpt_station_item_class_init (TptStationItemClass *klass)
{
  GObjectClass *object_class = G_OBJECT_CLASS (klass);
  GParamFlags flags = G_PARAM_READABLE | G_PARAM_STATIC_STRINGS;

  object_class->finalize = tpt_station_item_finalize;
  object_class->get_property = tpt_station_item_get_property;

  properties[PROP_CODE] = g_param_spec_string ("code", NULL, NULL, NULL, flags);
  properties[PROP_TITLE] = g_param_spec_string ("title", NULL, NULL, NULL, flags);
  g_object_class_install_properties (object_class, N_PROPS, properties);
}

static void
tpt_station_item_init (TptStationItem *self)
{
  const TptInterval none = { TPT_NO_INSTANT, TPT_NO_INSTANT, TPT_NO_INSTANT, TPT_STATE_UNKNOWN };

  self->forecast = (TptForecast){
    .state = TPT_STATE_UNKNOWN,
    .p_down = NAN,
    .lost_nights = NAN,
    .interval = none,
    .triggers_per_day = NAN,
    .known_at = TPT_NO_INSTANT,
    .units = g_ptr_array_new_with_free_func (free_unit),
    .card = { NULL, NAN, NAN, NAN, none },
  };
}

TptStationItem *
tpt_station_item_new (TptRecord *station, TptRecord *deployment)
{
  TptStationItem *self = g_object_new (TPT_TYPE_STATION_ITEM, NULL);

  g_set_object (&self->record, station);
  g_set_object (&self->deployment, deployment);
  return self;
}

static gpointer
copy_unit_cb (gconstpointer source, gpointer data)
{
  TptUnitForecast *unit = g_memdup2 (source, sizeof (TptUnitForecast));

  unit->unit = g_strdup (unit->unit);
  unit->kind = g_strdup (unit->kind);
  unit->label = g_strdup (unit->label);
  unit->why = g_strdup (unit->why);
  return unit;
}

TptStationItem *
tpt_station_item_copy (TptStationItem *self)
{
  TptStationItem *copy = tpt_station_item_new (self->record, self->deployment);
  TptForecast *forecast = &copy->forecast;

  g_ptr_array_unref (forecast->units);
  *forecast = self->forecast;
  forecast->limiting = g_strdup (forecast->limiting);
  forecast->limiting_label = g_strdup (forecast->limiting_label);
  forecast->why = g_strdup (forecast->why);
  forecast->card.unit = g_strdup (forecast->card.unit);
  forecast->card.why = g_strdup (forecast->card.why);
  forecast->units = g_ptr_array_copy (self->forecast.units, copy_unit_cb, NULL);
  g_ptr_array_set_free_func (forecast->units, free_unit);
  return copy;
}

TptRecord *
tpt_station_item_get_record (TptStationItem *self)
{
  return self->record;
}

TptRecord *
tpt_station_item_get_deployment (TptStationItem *self)
{
  return self->deployment;
}

TptForecast *
tpt_station_item_get_forecast (TptStationItem *self)
{
  return &self->forecast;
}

const char *
tpt_station_item_get_title (TptStationItem *self)
{
  const char *name = tpt_record_get_text (self->record, "name");

  return name != NULL ? name : tpt_record_get_code (self->record);
}

const char *
tpt_station_item_get_code (TptStationItem *self)
{
  return tpt_record_get_code (self->record);
}

TptSymbol
tpt_station_item_get_symbol (TptStationItem *self)
{
  double weakest = NAN;

  for (guint i = 0; i < self->forecast.units->len; i++)
    {
      const TptUnitForecast *unit = self->forecast.units->pdata[i];

      if (isnan (weakest) || unit->left < weakest)
        weakest = unit->left;
    }
  return (TptSymbol){ weakest, self->forecast.card.left, self->forecast.state };
}

/* (transfer full): what follows the name of the limiting thing. */
static char *
describe_when (const TptForecast *forecast, TptZone *zone, TptInstant on)
{
  const TptInterval *when = &forecast->interval;
  g_autofree char *days = NULL;

  if (when->p50 == TPT_NO_INSTANT)
    return g_strdup (_("lasts for years"));
  if (forecast->state == TPT_STATE_DOWN)
    {
      days = tpt_words_day (MIN (when->p50, on), zone, on);
      return forecast->p_down >= 1 ? g_strdup_printf (_("out since %s"), days)
                                   : g_strdup_printf (_("probably out since %s"), days);
    }
  if (when->p10 == TPT_NO_INSTANT || when->p90 == TPT_NO_INSTANT)
    {
      days = tpt_words_day (when->p50, zone, on);
      return g_strdup_printf (_("out about %s"), days);
    }
  days = tpt_words_days (when->p10, when->p90, zone, on);
  return g_strdup_printf (_("out %s"), days);
}

char *
tpt_station_item_describe (TptStationItem *self, TptZone *zone, TptInstant on)
{
  g_autofree char *when = NULL;

  if (self->deployment == NULL)
    return g_strdup (_("no rig set out"));
  if (self->forecast.limiting_label == NULL)
    return g_strdup (self->forecast.why != NULL ? self->forecast.why : _("nothing known about energy and card"));
  when = describe_when (&self->forecast, zone, on);
  return g_strdup_printf ("%s, %s", self->forecast.limiting_label, when);
}

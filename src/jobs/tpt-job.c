#include "tpt-job.h"

#define REPORT_EVERY_US 80000

typedef struct {
  GMutex lock;
  double progress;
  char *text; /* (owned) (nullable) */
  gint64 reported_at;
  TptJobProgressFunc func; /* (nullable) */
  gpointer func_data;
} TptJobPrivate;

G_DEFINE_ABSTRACT_TYPE_WITH_PRIVATE (TptJob, tpt_job, G_TYPE_OBJECT)

enum {
  PROP_0,
  PROP_PROGRESS,
  PROP_PROGRESS_TEXT,
  N_PROPS,
};

static GParamSpec *properties[N_PROPS];

static void
tpt_job_finalize (GObject *object)
{
  TptJobPrivate *priv = tpt_job_get_instance_private (TPT_JOB (object));

  g_mutex_clear (&priv->lock);
  g_free (priv->text);

  G_OBJECT_CLASS (tpt_job_parent_class)->finalize (object);
}

static void
tpt_job_get_property (GObject *object, guint id, GValue *value, GParamSpec *pspec)
{
  TptJob *self = TPT_JOB (object);

  switch (id)
    {
    case PROP_PROGRESS:
      g_value_set_double (value, tpt_job_get_progress (self));
      break;
    case PROP_PROGRESS_TEXT:
      g_value_take_string (value, tpt_job_get_progress_text (self));
      break;
    default:
      G_OBJECT_WARN_INVALID_PROPERTY_ID (object, id, pspec);
    }
}

static void
tpt_job_class_init (TptJobClass *klass)
{
  GObjectClass *object_class = G_OBJECT_CLASS (klass);

  object_class->finalize = tpt_job_finalize;
  object_class->get_property = tpt_job_get_property;

  properties[PROP_PROGRESS] =
    g_param_spec_double ("progress", NULL, NULL, 0, 1, 0, G_PARAM_READABLE | G_PARAM_STATIC_STRINGS);
  properties[PROP_PROGRESS_TEXT] =
    g_param_spec_string ("progress-text", NULL, NULL, NULL, G_PARAM_READABLE | G_PARAM_STATIC_STRINGS);
  g_object_class_install_properties (object_class, N_PROPS, properties);
}

static void
tpt_job_init (TptJob *self)
{
  TptJobPrivate *priv = tpt_job_get_instance_private (self);

  g_mutex_init (&priv->lock);
}

double
tpt_job_get_progress (TptJob *self)
{
  TptJobPrivate *priv = tpt_job_get_instance_private (self);
  double progress;

  g_mutex_lock (&priv->lock);
  progress = priv->progress;
  g_mutex_unlock (&priv->lock);
  return progress;
}

char *
tpt_job_get_progress_text (TptJob *self)
{
  TptJobPrivate *priv = tpt_job_get_instance_private (self);
  char *text;

  g_mutex_lock (&priv->lock);
  text = g_strdup (priv->text);
  g_mutex_unlock (&priv->lock);
  return text;
}

void
tpt_job_set_progress_func (TptJob *self, TptJobProgressFunc func, gpointer data)
{
  TptJobPrivate *priv = tpt_job_get_instance_private (self);

  priv->func = func;
  priv->func_data = data;
}

static gboolean
notify_cb (gpointer data)
{
  g_object_notify_by_pspec (data, properties[PROP_PROGRESS]);
  g_object_notify_by_pspec (data, properties[PROP_PROGRESS_TEXT]);
  return G_SOURCE_REMOVE;
}

void
tpt_job_report (TptJob *self, double progress, const char *text)
{
  TptJobPrivate *priv = tpt_job_get_instance_private (self);
  gint64 now = g_get_monotonic_time ();
  gboolean due;

  g_mutex_lock (&priv->lock);
  priv->progress = CLAMP (progress, 0, 1);
  g_free (priv->text);
  priv->text = g_strdup (text);
  due = now - priv->reported_at >= REPORT_EVERY_US || progress >= 1;
  if (due)
    priv->reported_at = now;
  g_mutex_unlock (&priv->lock);

  if (!due)
    return;
  if (priv->func != NULL)
    priv->func (self, CLAMP (progress, 0, 1), text, priv->func_data);
  else
    g_idle_add_full (G_PRIORITY_DEFAULT_IDLE, notify_cb, g_object_ref (self), g_object_unref);
}

#include "tpt-due-slot.h"

struct _TptDueSlot {
  GObject parent_instance;

  TptStationItem *item; /* (owned) (nullable) */
};

G_DEFINE_FINAL_TYPE (TptDueSlot, tpt_due_slot, G_TYPE_OBJECT)

enum {
  PROP_0,
  PROP_ITEM,
  N_PROPS,
};

static GParamSpec *properties[N_PROPS];

static void
tpt_due_slot_get_property (GObject *object, guint id, GValue *value, GParamSpec *pspec)
{
  switch (id)
    {
    case PROP_ITEM:
      g_value_set_object (value, TPT_DUE_SLOT (object)->item);
      break;
    default:
      G_OBJECT_WARN_INVALID_PROPERTY_ID (object, id, pspec);
    }
}

static void
tpt_due_slot_finalize (GObject *object)
{
  g_clear_object (&TPT_DUE_SLOT (object)->item);

  G_OBJECT_CLASS (tpt_due_slot_parent_class)->finalize (object);
}

static void
tpt_due_slot_class_init (TptDueSlotClass *klass)
{
  G_OBJECT_CLASS (klass)->get_property = tpt_due_slot_get_property;
  G_OBJECT_CLASS (klass)->finalize = tpt_due_slot_finalize;

  properties[PROP_ITEM] =
    g_param_spec_object ("item", NULL, NULL, TPT_TYPE_STATION_ITEM, G_PARAM_READABLE | G_PARAM_STATIC_STRINGS);
  g_object_class_install_properties (G_OBJECT_CLASS (klass), N_PROPS, properties);
}

static void
tpt_due_slot_init (TptDueSlot *self)
{
}

TptDueSlot *
tpt_due_slot_new (void)
{
  return g_object_new (TPT_TYPE_DUE_SLOT, NULL);
}

TptStationItem *
tpt_due_slot_get_item (TptDueSlot *self)
{
  return self->item;
}

void
tpt_due_slot_set_item (TptDueSlot *self, TptStationItem *item)
{
  if (g_set_object (&self->item, item))
    g_object_notify_by_pspec (G_OBJECT (self), properties[PROP_ITEM]);
}

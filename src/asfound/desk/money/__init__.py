"""What a car costs: the account, documents of suppliers, payments, and the workshop's rates."""
